import { awayFrom, distanceAt } from "./distance-grid.js";
import type { Piece } from "./piece.js";

/** Where two pieces are nearest, as their grids of distances see it. mm. */
export interface Contact {
  readonly apart: number;
  /** The point on the one piece that is nearest to the other. */
  readonly x: number;
  readonly y: number;
  /** From the other piece to the one, of length 1. */
  readonly nx: number;
  readonly ny: number;
}

/** The nearest outline point of `one` to `other`, moved by (mx, my), if nearer than `below`. */
function nearestPoint(one: Piece, other: Piece, mx: number, my: number, below: number): Contact | undefined {
  const area = other.a * other.d - other.b * other.c;
  const [a, b, c, d] = [other.d / area, -other.b / area, -other.c / area, other.a / area];
  const [dx, dy] = [one.x - other.x - mx, one.y - other.y - my];
  // From the one motif's units straight into the other's.
  const [la, lb] = [a * one.a + c * one.b, b * one.a + d * one.b];
  const [lc, ld] = [a * one.c + c * one.d, b * one.c + d * one.d];
  const [le, lf] = [a * dx + c * dy, b * dx + d * dy];
  const { samples } = one.kind;
  const grid = other.kind.distances;
  let [best, at] = [below, -1];
  for (let k = 0; k < samples.length; k += 4) {
    const x = samples[k] as number;
    const y = samples[k + 1] as number;
    const apart =
      distanceAt(grid, la * x + lc * y + le, lb * x + ld * y + lf) * other.scale -
      (samples[k + 2] as number) * one.scale;
    if (apart < best) {
      best = apart;
      at = k;
    }
    // A distance changes no faster than the way along the outline: what cannot be nearer yet is passed over.
    let spare = (apart - best) / one.scale - (samples[k + 3] as number);
    while (spare > 0 && k + 4 < samples.length) {
      k += 4;
      spare -= samples[k + 3] as number;
    }
  }
  if (at < 0) return undefined;
  const [x, y] = [samples[at] as number, samples[at + 1] as number];
  const [gx, gy] = awayFrom(grid, la * x + lc * y + le, lb * x + ld * y + lf);
  return {
    apart: best,
    x: one.a * x + one.c * y + one.x,
    y: one.b * x + one.d * y + one.y,
    nx: (other.a * gx + other.c * gy) / other.scale,
    ny: (other.b * gx + other.d * gy) / other.scale,
  };
}

/** Where `one` and `other`, moved by (mx, my), are nearest, if nearer than `below` mm. */
export function findContact(
  one: Piece,
  other: Piece,
  mx: number,
  my: number,
  below: number,
): Contact | undefined {
  const [dx, dy] = [one.x - other.x - mx, one.y - other.y - my];
  const reach = one.radius + other.radius + below;
  if (dx * dx + dy * dy > reach * reach) return undefined;
  const there = nearestPoint(one, other, mx, my, below);
  const back = nearestPoint(other, one, -mx, -my, there?.apart ?? below);
  if (back === undefined) return there;
  return { apart: back.apart, x: back.x + mx, y: back.y + my, nx: -back.nx, ny: -back.ny };
}

/** The lowest and highest point of a piece across a band, with what is painted around: y and the sample's place. */
export function acrossOf(piece: Piece): {
  readonly top: number;
  readonly topX: number;
  readonly bottom: number;
  readonly bottomX: number;
} {
  let [top, topX, bottom, bottomX] = [Infinity, 0, -Infinity, 0];
  const { samples } = piece.kind;
  for (let k = 0; k < samples.length; k += 4) {
    const [sx, sy] = [samples[k] as number, samples[k + 1] as number];
    const y = piece.b * sx + piece.d * sy + piece.y;
    const radius = (samples[k + 2] as number) * piece.scale;
    if (y - radius < top) {
      top = y - radius;
      topX = piece.a * sx + piece.c * sy + piece.x;
    }
    if (y + radius > bottom) {
      bottom = y + radius;
      bottomX = piece.a * sx + piece.c * sy + piece.x;
    }
  }
  return { top, topX, bottom, bottomX };
}
