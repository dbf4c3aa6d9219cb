import { RepetendError } from "../errors.js";
import type { Point } from "./affine.js";
import { curveAt, type MeasuredCurve, measureCurve } from "./arc-length.js";
import {
  blendStrips,
  cutStrips,
  type PatchStrip,
  type PinnedGuide,
  straightenCorners,
  wholeSide,
} from "./blend.js";
import { partOfCubic } from "./cubic.js";
import { type Cubic, cubicsOf, type Subpath } from "./cubic-path.js";
import { nearestOnCubics } from "./nearest.js";
import { invertAt, type SmoothMap, smoothFrom } from "./smooth-map.js";

/** The four edges of a patch, and curves inside that it follows. Any one unit. */
export interface PatchEdges {
  /** From the left corner to the right one. */
  readonly top: Subpath;
  /** From the top corner to the bottom one. */
  readonly right: Subpath;
  /** From the left corner to the right one. */
  readonly bottom: Subpath;
  /** From the top corner to the bottom one. */
  readonly left: Subpath;
  /** Curves from the top edge to the bottom edge, in any order, that lines down the cloth follow. */
  readonly guides?: readonly PatchGuide[];
}

/** A curve inside a patch. Where it meets the top and the bottom edge is found. */
export interface PatchGuide {
  readonly path: Subpath;
  /** Which line down the patch lies on it, 0 to 1; by default, the share of the top edge at which it starts. */
  readonly along?: number;
}

/** A patch between four curves. */
export interface Patch {
  /**
   * From the unit square to the plane: x runs along the top and bottom edges, y down the sides, each in equal steps of
   * length along the edges. Outside the square the edges go on straight, and beyond a corner the patch is the affine map
   * that it is there, so that what lies far out does not come back in.
   */
  readonly map: SmoothMap;
  /** The parts between guides, left to right; one without guides. @internal */
  readonly strips: readonly PatchStrip[];
  readonly lengths: {
    readonly top: number;
    readonly right: number;
    readonly bottom: number;
    readonly left: number;
  };
}

/** How far corners may gape, as a share of the patch's size. */
const CORNER_TOLERANCE = 1e-6;
/** How far a guide's end may miss the edge it should touch, as a share of the patch's size. */
const GUIDE_TOLERANCE = 1e-2;

/**
 * A patch blended from its four boundary curves, each measured by arc length: S. A. Coons, "Surfaces for
 * computer-aided design of space forms", MIT Project MAC TR-41 (1967). It reproduces the curves, and between the
 * straight sides of a parallelogram it is the affine map. Guides cut it into strips, each blended by itself; the map
 * stays continuous across a guide, its stretch may jump there.
 *
 * @throws {@link RepetendError} `E_LAYOUT` when corners do not meet, an edge has no length, or guides miss the edges, cross,
 * or stand at the same place.
 */
export function patch(edges: PatchEdges): Patch {
  const [top, right, bottom, left] = [edges.top, edges.right, edges.bottom, edges.left].map((edge) =>
    measureCurve(cubicsOf(edge)),
  ) as [MeasuredCurve, MeasuredCurve, MeasuredCurve, MeasuredCurve];
  const lengths = { top: top.length, right: right.length, bottom: bottom.length, left: left.length };
  const size = Math.max(...Object.values(lengths));
  // A top or bottom edge may shrink to a point, as on a gusset; the sides and the patch itself may not.
  if (!(size > 0 && lengths.left > 0 && lengths.right > 0 && Number.isFinite(size)))
    throw new RepetendError("E_LAYOUT", "an edge of a patch has no length", {
      value: JSON.stringify(lengths),
    });
  const meet = (name: string, one: Point, other: Point): void => {
    const gap = Math.hypot(one.x - other.x, one.y - other.y);
    if (gap > CORNER_TOLERANCE * size)
      throw new RepetendError("E_LAYOUT", `edges of a patch gape by ${gap} at the ${name} corner`, {
        where: name,
      });
  };
  meet("top left", start(top), start(left));
  meet("top right", end(top), start(right));
  meet("bottom left", start(bottom), end(left));
  meet("bottom right", end(bottom), end(right));
  const guides = edges.guides ?? [];
  const sides = [wholeSide(top), wholeSide(right), wholeSide(bottom), wholeSide(left)] as const;
  const pinned = guides.map((guide, k) => pinGuide(guide, top, bottom, size, k));
  const strips = cutStrips(...sides, pinned);
  return { map: smoothFrom(straightenCorners(blendStrips(strips))), strips, lengths };
}

function start(curve: MeasuredCurve): Point {
  return curveAt(curve, 0);
}

function end(curve: MeasuredCurve): Point {
  return curveAt(curve, curve.length);
}

/** A guide with its ends drawn onto the edges, and where along them it stands. */
function pinGuide(
  guide: PatchGuide,
  top: MeasuredCurve,
  bottom: MeasuredCurve,
  size: number,
  index: number,
): PinnedGuide {
  const cubics = cubicsOf(guide.path);
  const where = `guides[${index}]`;
  const [first, last] = [cubics[0], cubics[cubics.length - 1]];
  if (first === undefined || last === undefined)
    throw new RepetendError("E_LAYOUT", "a guide of a patch has no length", { where });
  const onTop = lengthNearest(top, { x: first[0], y: first[1] }, size, where, "top");
  const onBottom = lengthNearest(bottom, { x: last[6], y: last[7] }, size, where, "bottom");
  const pinned = pinEnds(cubics, curveAt(top, onTop), curveAt(bottom, onBottom));
  const side = wholeSide(measureCurve(pinned));
  return { side, onTop, onBottom, along: guide.along ?? onTop / top.length, where };
}

function lengthNearest(
  curve: MeasuredCurve,
  point: Point,
  size: number,
  where: string,
  edge: string,
): number {
  const nearest = nearestOnCubics(
    curve.cubics.map(({ cubic }) => cubic),
    point,
  );
  const piece = nearest && curve.cubics[nearest.index];
  if (!nearest || !piece || nearest.distance > GUIDE_TOLERANCE * size) {
    const end = edge === "top" ? "begin" : "end";
    throw new RepetendError("E_LAYOUT", `a guide does not ${end} on the ${edge} edge`, {
      where,
      ...(nearest ? { value: `${inPercent(nearest.distance / size)} of the panel's size away` } : {}),
      accepted: `a line from the top edge to the bottom edge, each end at most ${inPercent(GUIDE_TOLERANCE)} away from it`,
    });
  }
  return piece.start + measureCurve([partOfCubic(piece.cubic, 0, Math.max(nearest.t, 1e-12))]).length;
}

const inPercent = (share: number): string => `${Number((share * 100).toFixed(1))} %`;

/** Moves a chain's two ends, and the control points beside them, onto given points. */
function pinEnds(cubics: readonly Cubic[], from: Point, to: Point): readonly Cubic[] {
  return cubics.map((cubic, k): Cubic => {
    const [headX, headY] = k === 0 ? [from.x - cubic[0], from.y - cubic[1]] : [0, 0];
    const [tailX, tailY] = k === cubics.length - 1 ? [to.x - cubic[6], to.y - cubic[7]] : [0, 0];
    return [
      cubic[0] + headX,
      cubic[1] + headY,
      cubic[2] + headX,
      cubic[3] + headY,
      cubic[4] + tailX,
      cubic[5] + tailY,
      cubic[6] + tailX,
      cubic[7] + tailY,
    ];
  });
}

/**
 * The place in the unit square that a patch takes to a point, within `tolerance` in the unit of the edges; `undefined`
 * for a point that it does not reach. Newton's method from the nearest of 81 starts, then from the others.
 */
export function invertPatch({ map }: Patch, target: Point, tolerance: number): Point | undefined {
  const starts = Array.from({ length: 81 }, (_, k) => ({ x: (k % 9) / 8, y: Math.floor(k / 9) / 8 }))
    .map((at) => {
      const image = map(at.x, at.y);
      return { at, gap: Math.hypot(image.x - target.x, image.y - target.y) };
    })
    .sort((one, other) => one.gap - other.gap);
  for (const { at } of starts.slice(0, 12)) {
    const found = invertAt(map, target, at, tolerance);
    if (found && found.x >= -1e-6 && found.x <= 1 + 1e-6 && found.y >= -1e-6 && found.y <= 1 + 1e-6)
      return found;
  }
  return undefined;
}
