import type { Likeness } from "./likeness.js";
import { topOf } from "./likeness.js";
import type { LabPicture } from "./picture.js";

/** The direction in which a picture changes, where it changes in one direction only. */
export interface Stripes {
  /** A unit vector across the stripes. */
  readonly x: number;
  readonly y: number;
}

/** Of the change in all, at most this share runs along the stripes: noise and JPEG leave about a hundredth. */
const ALONG = 0.03;

/** The direction is known to about a degree: hard pixels of slanted edges turn it a little. */
const DIRECTION = 0.02;

/** Stripes are as like to themselves as this, moved along by any length. */
const STEADY = 0.97;

/**
 * Tells whether a picture is nothing but stripes: by the structure tensor (the mean square of the gradient in each
 * direction; Bigün and Granlund, "Optimal orientation detection of linear symmetry", ICCV 1987), then by the likeness along them.
 */
export function findStripes(detail: LabPicture, likeness: Likeness): Stripes | undefined {
  const { width, height, planes } = detail;
  let [xx, xy, yy] = [0, 0, 0];
  for (const plane of planes)
    for (let y = 1; y < height - 1; y++)
      for (let x = 1; x < width - 1; x++) {
        const at = y * width + x;
        const dx = (plane[at + 1] as number) - (plane[at - 1] as number);
        const dy = (plane[at + width] as number) - (plane[at - width] as number);
        xx += dx * dx;
        xy += dx * dy;
        yy += dy * dy;
      }
  const middle = (xx + yy) / 2;
  const half = Math.hypot((xx - yy) / 2, xy);
  if (middle - half > ALONG * (middle + half)) return undefined;
  const angle = Math.atan2(2 * xy, xx - yy) / 2;
  const across = { x: Math.cos(angle), y: Math.sin(angle) };
  const reach = Math.min(likeness.reachX, likeness.reachY) * 0.8;
  for (let length = 3; length < reach; length += 3) {
    const [x, y] = [-across.y * length, across.x * length];
    const slack = Math.ceil(0.5 + DIRECTION * length);
    const near = Array.from({ length: (2 * slack + 1) ** 2 }, (_, k) =>
      likeness.at(
        Math.round(x) + (k % (2 * slack + 1)) - slack,
        Math.round(y) + Math.floor(k / (2 * slack + 1)) - slack,
      ),
    );
    if (Math.max(...near) < STEADY) return undefined;
  }
  return across;
}

/** The first shift along one axis at which a picture is nearly as like to itself as it gets there, with its likeness. */
export function periodAlong(
  likeness: Likeness,
  axis: "x" | "y",
  least: number,
): { readonly length: number; readonly likeness: number } | undefined {
  const reach = axis === "x" ? likeness.reachX : likeness.reachY;
  const at = (length: number) => (axis === "x" ? likeness.at(length, 0) : likeness.at(0, length));
  const tops: { length: number; likeness: number }[] = [];
  for (let length = Math.max(2, Math.ceil(least)); length < reach; length++) {
    if (at(length) < at(length - 1) || at(length) < at(length + 1)) continue;
    const top = topOf(at(length - 1), at(length), at(length + 1));
    tops.push({ length: length + top.at, likeness: Math.min(1, top.value) });
  }
  const best = Math.max(0, ...tops.map((top) => top.likeness));
  return best < 0.5 ? undefined : tops.find((top) => top.likeness >= best - 0.06);
}
