import { type Affine, compose, IDENTITY } from "../geometry/affine.js";
import type { Box } from "../geometry/box.js";
import { transformPath } from "../geometry/cubic-path.js";
import { flattenPath } from "../geometry/flatten.js";
import { pathOfShape } from "../geometry/shape.js";
import { paintedBox, parseTransform } from "../svg/index.js";
import {
  type Attributes,
  childElements,
  definitionsById,
  handedDown,
  idIn,
} from "../svg/painted/elements.js";
import type { SvgElement } from "../svg/tree.js";
import { dropCovered, type Fill, fillOf, type Outline } from "./covered.js";
import { joinLines } from "./join-lines.js";
import { pointedJoins } from "./pointed-joins.js";
import type { Motif } from "./types.js";

/** What a motif covers, as straight lines, in the units of the map it was taken under. */
export interface Silhouette {
  /** Five numbers a line: x0, y0, x1, y1, and how far around it is painted. */
  readonly segments: Float64Array;
  readonly fills: readonly Fill[];
  /** One point, flat x then y, of every run: tells whether a part lies inside of another shape. */
  readonly marks: Float64Array;
}

interface Taking {
  readonly definitions: ReadonlyMap<string, SvgElement>;
  readonly defs: readonly SvgElement[];
  readonly tolerance: number;
  readonly outlines: Outline[];
}

/**
 * The silhouette of a motif under a map. It is never smaller than what is painted: curves lie within twice `tolerance`, which
 * is added around; strokes count with their width, ends as round, dashes as whole, a stretched stroke as wide as its
 * widest; of what is clipped the smaller of clip and shape counts; a filter or a picture counts as its box. Lines that
 * lie wholly under another shape are left out.
 */
export function takeSilhouette(motif: Motif, map: Affine, tolerance: number): Silhouette {
  const outlines: Outline[] = [];
  const taking = { definitions: definitionsById(motif.defs), defs: motif.defs, tolerance, outlines };
  takeAll(motif.body, map, {}, taking);
  const shown = outlines.filter((one) => one.runs.length > 0);
  return {
    segments: Float64Array.from(joinLines(dropCovered(shown), tolerance)),
    fills: shown.flatMap(({ fill }) => (fill === undefined ? [] : [fill])),
    marks: Float64Array.from(shown.flatMap(({ runs }) => runs.flatMap((run) => [run[0] ?? 0, run[1] ?? 0]))),
  };
}

function takeAll(elements: readonly SvgElement[], map: Affine, above: Attributes, taking: Taking): void {
  for (const one of elements) takeOne(one, map, above, taking);
}

function takeOne(one: SvgElement, outer: Affine, above: Attributes, taking: Taking): void {
  const { transform } = one.attributes;
  const map = transform === undefined ? outer : compose(outer, parseTransform(transform));
  const { filter } = one.attributes;
  if (filter !== undefined || one.name === "image") {
    const box = paintedBox([one], taking.defs);
    if (box !== undefined) takeBox(box, outer, taking);
    return;
  }
  const clip = taking.definitions.get(idIn(one.attributes["clip-path"]) ?? "");
  const own: Outline[] = [];
  takePainted(one, map, handedDown(one, above), { ...taking, outlines: own });
  if (clip === undefined || clip.attributes.clipPathUnits === "objectBoundingBox") {
    taking.outlines.push(...own);
    return;
  }
  const inner = clip.attributes.transform;
  const clipped: Outline[] = [];
  takeAll(
    childElements(clip),
    inner === undefined ? map : compose(map, parseTransform(inner)),
    { fill: "#000000", stroke: "none" },
    { ...taking, outlines: clipped },
  );
  taking.outlines.push(...(extent(clipped) < extent(own) ? clipped : own));
}

function takePainted(one: SvgElement, map: Affine, attributes: Attributes, taking: Taking): void {
  if (one.name === "g") {
    takeAll(childElements(one), map, attributes, taking);
    return;
  }
  const path = pathOfShape(one.name, one.attributes);
  if (path === undefined) return;
  const { tolerance } = taking;
  const runs = flattenPath(transformPath(path, map), tolerance).map(snapRun);
  const filled = (attributes.fill ?? "#000000") !== "none";
  const width = (attributes.stroke ?? "none") === "none" ? 0 : Number(attributes["stroke-width"] ?? 1);
  if (!filled && width === 0) return;
  const radius = (width / 2) * widest(map);
  const evenOdd = (one.attributes["clip-rule"] ?? attributes["fill-rule"]) === "evenodd";
  const closed = path.subpaths.map((run) => run.closed);
  taking.outlines.push({
    runs: filled ? runs.map(close) : runs,
    radius: radius + tolerance,
    fill: filled ? fillOf(runs.map(close), evenOdd) : undefined,
  });
  if (width === 0) return;
  const limit = (attributes["stroke-linejoin"] ?? "miter").startsWith("miter")
    ? Number(attributes["stroke-miterlimit"] ?? 4)
    : 0;
  // A square end reaches further than a round one: the line goes on by half a width.
  const square = attributes["stroke-linecap"] === "square";
  const points = runs.flatMap((run, k) => [
    ...pointedJoins(run, closed[k] ?? false, radius, limit),
    ...(square && !closed[k] ? squareEnds(run, radius) : []),
  ]);
  if (points.length > 0) {
    taking.outlines.push({ runs: points, radius: tolerance, fill: fillOf(points, false) });
  }
}

/** Straight boxes over the ends of a run, from its last points outwards. */
function squareEnds(run: Float64Array, radius: number): readonly Float64Array[] {
  const last = run.length - 2;
  return [
    [0, 2],
    [last, last - 2],
  ].flatMap(([end = 0, next = 0]) => {
    const [x, y] = [run[end] ?? 0, run[end + 1] ?? 0];
    const [dx, dy] = [x - (run[next] ?? x), y - (run[next + 1] ?? y)];
    const length = Math.sqrt(dx * dx + dy * dy);
    if (length === 0) return [];
    const [ux, uy] = [(dx / length) * radius, (dy / length) * radius];
    const corners = [x - uy, y + ux, x + ux - uy, y + uy + ux, x + ux + uy, y + uy - ux, x + uy, y - ux];
    return [close(Float64Array.from(corners))];
  });
}

function takeBox({ x, y, width, height }: Box, { a, b, c, d, e, f }: Affine, taking: Taking): void {
  const corners = [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ].flatMap(([px = 0, py = 0]) => [a * px + c * py + e, b * px + d * py + f]);
  const ring = close(Float64Array.from(corners));
  taking.outlines.push({ runs: [ring], radius: taking.tolerance, fill: fillOf([ring], false) });
}

/** Sines may differ in their last digit from one machine to the next; a tossed print must not. */
const SNAP = 2 ** 20;

function snapRun(run: readonly { readonly x: number; readonly y: number }[]): Float64Array {
  const snap = (value: number) => Math.round(value * SNAP) / SNAP;
  return Float64Array.from(run.flatMap(({ x, y }) => [snap(x), snap(y)]));
}

function close(run: Float64Array): Float64Array {
  const last = run.length - 2;
  if (run[0] === run[last] && run[1] === run[last + 1]) return run;
  return Float64Array.from([...run, run[0] ?? 0, run[1] ?? 0]);
}

/** By how much a map stretches at most: its larger singular value. */
export function widest({ a, b, c, d }: Affine = IDENTITY): number {
  const sum = (a * a + b * b + c * c + d * d) / 2;
  const area = a * d - b * c;
  return Math.sqrt(sum + Math.sqrt(Math.max(0, sum * sum - area * area)));
}

function extent(outlines: readonly Outline[]): number {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { runs, radius } of outlines) {
    for (const run of runs) {
      for (let k = 0; k + 1 < run.length; k += 2) {
        const [x, y] = [run[k] ?? 0, run[k + 1] ?? 0];
        left = Math.min(left, x - radius);
        right = Math.max(right, x + radius);
        top = Math.min(top, y - radius);
        bottom = Math.max(bottom, y + radius);
      }
    }
  }
  return right > left ? (right - left) * (bottom - top) : 0;
}
