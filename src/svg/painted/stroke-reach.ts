import type { CubicPath, Subpath } from "../../geometry/index.js";

/** What of a stroke decides how far it reaches, in the units of its path. */
export interface StrokeShape {
  readonly width: number;
  readonly cap: string;
  readonly join: string;
  readonly miterLimit: number;
}

/**
 * How far a stroke reaches from its path at most: half its width, more for square caps (their corner) and for pointed
 * joins, which reach half the width over the sine of half the angle (SVG 2, `stroke-miterlimit`).
 */
export function strokeReach(path: CubicPath, { width, cap, join, miterLimit }: StrokeShape): number {
  const half = width / 2;
  const open = cap === "square" ? Math.SQRT2 : 1;
  if (!join.startsWith("miter")) return half * open;
  const points = path.subpaths.reduce((most, run) => Math.max(most, sharpest(run, miterLimit)), 1);
  return half * Math.max(open, points);
}

/** The longest miter of a run, in half widths; a join sharper than the limit is cut and counts 1. */
function sharpest(run: Subpath, limit: number): number {
  const ways = directions(run);
  let most = 1;
  const last = run.closed ? ways.length : ways.length - 1;
  for (let index = 0; index < last; index++) {
    const arriving = ways[index]?.end;
    const leaving = ways[(index + 1) % ways.length]?.start;
    if (arriving === undefined || leaving === undefined) continue;
    // The angle between the sides is the half turn less the angle of turning, so its half has this sine.
    const cosine = arriving[0] * leaving[0] + arriving[1] * leaving[1];
    const sine = Math.sqrt(Math.max(0, (1 + cosine) / 2));
    // A clipped miter reaches the limit itself; that is the bound for a join that is nearly too sharp, too.
    if (sine > 0 && 1 / sine <= limit * 1.001) most = Math.max(most, Math.min(limit, 1 / sine));
  }
  return most;
}

type Way = readonly [number, number];

/** Unit directions in which each cubic of a run starts and ends; those without length are left out. */
function directions({ points }: Subpath): readonly { readonly start: Way; readonly end: Way }[] {
  const found: { start: Way; end: Way }[] = [];
  for (let index = 0; index + 7 < points.length; index += 6) {
    const at = (k: number): Way => [points[index + 2 * k] ?? 0, points[index + 2 * k + 1] ?? 0];
    const [p0, p1, p2, p3] = [at(0), at(1), at(2), at(3)];
    const start = way(p0, p1) ?? way(p0, p2) ?? way(p0, p3);
    const end = way(p2, p3) ?? way(p1, p3) ?? way(p0, p3);
    if (start !== undefined && end !== undefined) found.push({ start, end });
  }
  return found;
}

function way(from: Way, to: Way): Way | undefined {
  const [x, y] = [to[0] - from[0], to[1] - from[1]];
  const length = Math.hypot(x, y);
  return length > 0 ? [x / length, y / length] : undefined;
}
