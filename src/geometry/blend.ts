import { RepetendError } from "../errors.js";
import type { Point } from "./affine.js";
import type { MeasuredCurve } from "./arc-length.js";
import { type CurveTable, lookUpCurve, tabulateCurve } from "./curve-table.js";
import type { MapInto } from "./smooth-map.js";

/** A part of a curve, asked by shares of that part. */
export interface Side {
  readonly curve: MeasuredCurve;
  readonly table: CurveTable;
  readonly from: number;
  readonly length: number;
}

/** All of a curve, tabulated. */
export function wholeSide(curve: MeasuredCurve): Side {
  return { curve, table: tabulateCurve(curve), from: 0, length: curve.length };
}

/**
 * Of each of four sides, and strips: more corners only share a number, and cost a few halvings.
 * Five of them stay below 2^40, so that two maps may be composed.
 */
const MOST_CORNERS = 32;

/** The blended map of one patch; formulas beside `patch`. */
function blend(top: Side, right: Side, bottom: Side, left: Side): MapInto {
  const at = new Float64Array(16);
  const corner = (side: Side, along: number): Point => {
    lookUpCurve(side.table, along, at, 0);
    return { x: at[0] ?? 0, y: at[1] ?? 0 };
  };
  const { x: t0x, y: t0y } = corner(top, top.from);
  const { x: t1x, y: t1y } = corner(top, top.from + top.length);
  const { x: b0x, y: b0y } = corner(bottom, bottom.from);
  const { x: b1x, y: b1y } = corner(bottom, bottom.from + bottom.length);
  return (u, v, into) => {
    let piece = lookUpCurve(top.table, top.from + u * top.length, at, 0);
    piece = piece * MOST_CORNERS + lookUpCurve(bottom.table, bottom.from + u * bottom.length, at, 4);
    piece = piece * MOST_CORNERS + lookUpCurve(left.table, left.from + v * left.length, at, 8);
    piece = piece * MOST_CORNERS + lookUpCurve(right.table, right.from + v * right.length, at, 12);
    const tx = at[0] ?? 0;
    const ty = at[1] ?? 0;
    const bx = at[4] ?? 0;
    const by = at[5] ?? 0;
    const lx = at[8] ?? 0;
    const ly = at[9] ?? 0;
    const rx = at[12] ?? 0;
    const ry = at[13] ?? 0;
    const p = 1 - u;
    const q = 1 - v;
    const alongTop = q * top.length;
    const alongBottom = v * bottom.length;
    const downLeft = p * left.length;
    const downRight = u * right.length;
    into[0] = q * tx + v * bx + p * lx + u * rx - (p * (q * t0x + v * b0x) + u * (q * t1x + v * b1x));
    into[1] = q * ty + v * by + p * ly + u * ry - (p * (q * t0y + v * b0y) + u * (q * t1y + v * b1y));
    into[2] =
      alongTop * (at[2] ?? 0) + alongBottom * (at[6] ?? 0) + rx - lx - (q * (t1x - t0x) + v * (b1x - b0x));
    into[3] =
      alongTop * (at[3] ?? 0) + alongBottom * (at[7] ?? 0) + ry - ly - (q * (t1y - t0y) + v * (b1y - b0y));
    into[4] =
      bx - tx + downLeft * (at[10] ?? 0) + downRight * (at[14] ?? 0) - (p * (b0x - t0x) + u * (b1x - t1x));
    into[5] =
      by - ty + downLeft * (at[11] ?? 0) + downRight * (at[15] ?? 0) - (p * (b0y - t0y) + u * (b1y - t1y));
    into[6] = piece;
  };
}

/** A curve inside a patch whose ends lie on its edges. */
export interface PinnedGuide {
  readonly side: Side;
  /** Lengths along the two edges at which it stands. */
  readonly onTop: number;
  readonly onBottom: number;
  readonly along: number;
  readonly where: string;
}

/** A part of a patch from top to bottom, blended by itself between its four sides. */
export interface PatchStrip {
  /** Which part of the unit square, along it. */
  readonly from: number;
  readonly to: number;
  readonly top: Side;
  readonly right: Side;
  readonly bottom: Side;
  readonly left: Side;
}

/** The strips between guides. */
export function cutStrips(
  top: Side,
  right: Side,
  bottom: Side,
  left: Side,
  guides: readonly PinnedGuide[],
): readonly PatchStrip[] {
  const lines = [
    { side: left, onTop: 0, onBottom: 0, along: 0, where: "left" },
    ...[...guides].sort((one, other) => one.onTop - other.onTop),
    { side: right, onTop: top.length, onBottom: bottom.length, along: 1, where: "right" },
  ];
  const strips: PatchStrip[] = [];
  for (const [k, next] of lines.entries()) {
    const line = lines[k - 1];
    if (line === undefined) continue;
    if (!(next.along > line.along && next.onTop >= line.onTop && next.onBottom >= line.onBottom))
      throw new RepetendError("E_LAYOUT", "guides of a patch must stand apart and not cross", {
        where: k <= guides.length ? next.where : line.where,
        value: String(k <= guides.length ? next.along : line.along),
      });
    strips.push({
      from: line.along,
      to: next.along,
      top: { ...top, from: line.onTop, length: next.onTop - line.onTop },
      right: next.side,
      bottom: { ...bottom, from: line.onBottom, length: next.onBottom - line.onBottom },
      left: line.side,
    });
  }
  return strips;
}

/** Strips side by side: continuous across each guide, while the stretch may jump there. */
export function blendStrips(strips: readonly PatchStrip[]): MapInto {
  const blends = strips.map(({ from, to, top, right, bottom, left }) => ({
    from,
    to,
    into: blend(top, right, bottom, left),
  }));
  const [only] = blends;
  if (only !== undefined && blends.length === 1) return only.into;
  const last = blends.length - 1;
  return (u, v, into) => {
    let k = 0;
    while (k < last && u >= (blends[k]?.to ?? 1)) k += 1;
    const strip = blends[k];
    if (strip === undefined) return;
    const width = strip.to - strip.from;
    strip.into((u - strip.from) / width, v, into);
    into[2] = (into[2] ?? 0) / width;
    into[3] = (into[3] ?? 0) / width;
    into[6] = (into[6] ?? 0) * MOST_CORNERS + k;
  };
}

const clamp = (value: number): number => Math.min(1, Math.max(0, value));

/** The same map, affine in the quadrants beyond its corners: a blend is bilinear there and folds back. */
export function straightenCorners(map: MapInto): MapInto {
  return (u, v, into) => {
    const nearU = clamp(u);
    const nearV = clamp(v);
    if (nearU === u || nearV === v) {
      map(u, v, into);
      return;
    }
    map(nearU, nearV, into);
    const du = u - nearU;
    const dv = v - nearV;
    into[0] = (into[0] ?? 0) + du * (into[2] ?? 0) + dv * (into[4] ?? 0);
    into[1] = (into[1] ?? 0) + du * (into[3] ?? 0) + dv * (into[5] ?? 0);
    // A piece of its own: the stretch jumps where it begins.
    into[6] = -1 - (into[6] ?? 0);
  };
}
