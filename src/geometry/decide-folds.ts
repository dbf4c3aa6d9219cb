import type { PatchStrip } from "./blend.js";
import type { Box } from "./box.js";
import { boundCurve, type CurveBounds } from "./curve-bounds.js";
import {
  addIntervals,
  type Interval,
  multiplyIntervals,
  scaleInterval,
  subtractIntervals,
} from "./interval.js";
import type { Patch } from "./patch.js";
import { stretchAt } from "./smooth-map.js";

/** What is known of a patch's folds, as boxes of its unit square. */
export interface FoldDecision {
  /** Where it folds over for certain. */
  readonly folded: readonly Box[];
  /** Where neither could be shown, down to the finest cells. Elsewhere it does not fold. */
  readonly open: readonly Box[];
}

/** Cells are quartered down to this share of a strip's width and height. */
export const FINEST_CELL: number = 1 / 256;

/** The most cells that are looked at in one strip: a fold is a curve, along which cells stay open. */
const MOST_CELLS = 40_000;

/** What rounding may do to an area factor, as a share of the patch's. */
const ROUNDING = 1e-9;

/**
 * Decides where a patch folds over: bounds of its area factor over whole cells of the unit square, by interval
 * arithmetic on the edges' control points (R. E. Moore, R. B. Kearfott, M. J. Cloud, "Introduction to Interval
 * Analysis", 2009, chapter 5), quartered until the sign is certain or a cell is 1/256 of a strip wide and high. What is
 * in neither list does not fold, whatever lies between any two places that one might look at.
 *
 * @example
 * ```ts
 * import { decideFolds, patch, readPath } from "repetend";
 * const edge = (d: string) => readPath(d).subpaths[0] ?? { closed: false, points: [] };
 * const skirt = patch({
 *   top: edge("M100 20Q150 40 200 20"), right: edge("M200 20L260 220"),
 *   bottom: edge("M40 220C100 250 200 250 260 220"), left: edge("M100 20L40 220"),
 * });
 * decideFolds(skirt); // { folded: [], open: [] }
 * ```
 */
export function decideFolds({ map, strips }: Patch): FoldDecision {
  const upright = facing(map);
  const folded: Box[] = [];
  const open: Box[] = [];
  for (const strip of strips) {
    const bound = boundStrip(strip);
    let cells: readonly Box[] = [{ x: 0, y: 0, width: 1, height: 1 }];
    let looked = 0;
    while (cells.length > 0) {
      looked += cells.length;
      const next: Box[] = [];
      for (const cell of cells) {
        const [low, high] = scaleInterval(bound(cell), upright);
        if (low > ROUNDING) continue;
        if (high < -ROUNDING) folded.push(inSquare(cell, strip));
        else if (cell.width <= FINEST_CELL || looked > MOST_CELLS) open.push(inSquare(cell, strip));
        else next.push(...quarter(cell));
      }
      cells = next;
    }
  }
  return { folded, open };
}

/** Looks along each axis for which way most of a patch faces. */
const LOOKS = 9;

/** 1, or -1 for a patch that is mirrored as a whole. */
function facing(map: Patch["map"]): 1 | -1 {
  let area = 0;
  for (let k = 0; k < LOOKS * LOOKS; k += 1)
    area += stretchAt(map, { x: ((k % LOOKS) + 0.5) / LOOKS, y: (Math.floor(k / LOOKS) + 0.5) / LOOKS });
  return area < 0 ? -1 : 1;
}

function quarter({ x, y, width, height }: Box): readonly Box[] {
  const [w, h] = [width / 2, height / 2];
  return [0, 1, 2, 3].map((k) => ({ x: x + (k % 2) * w, y: y + (k >> 1) * h, width: w, height: h }));
}

function inSquare({ x, y, width, height }: Box, { from, to }: PatchStrip): Box {
  return { x: from + x * (to - from), y, width: width * (to - from), height };
}

/** The area factor over a cell of a strip, as a share of the product of its mean width and height. */
function boundStrip({ top, right, bottom, left }: PatchStrip): (cell: Box) => Interval {
  const along = (side: PatchStrip["top"]): ((low: number, high: number) => CurveBounds) => {
    const known = new Map<string, CurveBounds>();
    return (low, high) => {
      const name = `${low} ${high}`;
      const bounds =
        known.get(name) ??
        boundCurve(side.curve, side.from + low * side.length, side.from + high * side.length);
      known.set(name, bounds);
      return bounds;
    };
  };
  const [onTop, onRight, onBottom, onLeft] = [top, right, bottom, left].map(along);
  if (!onTop || !onRight || !onBottom || !onLeft) return () => [-Infinity, Infinity];
  const corners = [onTop(0, 0), onTop(1, 1), onBottom(0, 0), onBottom(1, 1)] as const;
  const size = ((top.length + bottom.length) * (left.length + right.length)) / 4;
  return ({ x, y, width, height }) => {
    const u: Interval = [x, x + width];
    const v: Interval = [y, y + height];
    const p: Interval = [1 - u[1], 1 - u[0]];
    const q: Interval = [1 - v[1], 1 - v[0]];
    const [t, r] = [onTop(...u), onRight(...v)];
    const [b, l] = [onBottom(...u), onLeft(...v)];
    // The four partial derivatives of the blend, term by term as in `blend`.
    const partials = (["x", "y"] as const).map((axis) => {
      const direction = axis === "x" ? "directionX" : "directionY";
      const [t0, t1, b0, b1] = corners.map((corner) => corner[axis]) as [
        Interval,
        Interval,
        Interval,
        Interval,
      ];
      const across = sum(
        multiplyIntervals(q, scaleInterval(t[direction], top.length)),
        multiplyIntervals(v, scaleInterval(b[direction], bottom.length)),
        subtractIntervals(r[axis], l[axis]),
        multiplyIntervals(q, subtractIntervals(t0, t1)),
        multiplyIntervals(v, subtractIntervals(b0, b1)),
      );
      const down = sum(
        multiplyIntervals(p, scaleInterval(l[direction], left.length)),
        multiplyIntervals(u, scaleInterval(r[direction], right.length)),
        subtractIntervals(b[axis], t[axis]),
        multiplyIntervals(p, subtractIntervals(t0, b0)),
        multiplyIntervals(u, subtractIntervals(t1, b1)),
      );
      return [across, down] as const;
    });
    const [[ax, dx], [ay, dy]] = partials as [(typeof partials)[0], (typeof partials)[0]];
    return scaleInterval(subtractIntervals(multiplyIntervals(ax, dy), multiplyIntervals(ay, dx)), 1 / size);
  };
}

const sum = (...terms: readonly Interval[]): Interval => terms.reduce(addIntervals);
