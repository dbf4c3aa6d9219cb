import type { FoundLayout, RepeatReading } from "./layout.js";
import type { LabPicture } from "./picture.js";

/** A picture read as one tile. */
export interface TileReading extends RepeatReading {
  readonly confidence: number;
}

/** A picture's outermost pixels along one edge, and those one further in, each as numbers of all planes. */
function edgeLines(picture: LabPicture, edge: "left" | "right" | "top" | "bottom"): readonly Float32Array[] {
  const { width, height, planes } = picture;
  const length = edge === "left" || edge === "right" ? height : width;
  const line = (inset: number): Float32Array => {
    const values = new Float32Array(length * planes.length);
    for (let k = 0; k < length; k++)
      for (const [channel, plane] of planes.entries()) {
        const [x, y] =
          edge === "left"
            ? [inset, k]
            : edge === "right"
              ? [width - 1 - inset, k]
              : edge === "top"
                ? [k, inset]
                : [k, height - 1 - inset];
        values[k * planes.length + channel] = plane[y * width + x] as number;
      }
    return values;
  };
  return [line(0), line(1)];
}

/** The mean difference of two lines, the second moved along by `offset` and closed to a ring. */
function differ(one: Float32Array, other: Float32Array, offset: number, channels: number): number {
  const length = one.length / channels;
  let sum = 0;
  for (let k = 0; k < length; k++) {
    const partner = (((k - offset) % length) + length) % length;
    let square = 0;
    for (let channel = 0; channel < channels; channel++)
      square +=
        ((one[k * channels + channel] as number) - (other[partner * channels + channel] as number)) ** 2;
    sum += Math.sqrt(square);
  }
  return sum / length;
}

interface Meeting {
  readonly p: number;
  readonly q: number;
  /** Nothing crosses the edge, so that every offset fits alike. */
  readonly open: boolean;
}

const LARGEST_Q = 9;

/** An edge meets where the step from one line to the next is no larger than this many times the step inside. */
const LIKE_INSIDE = 2;

/** An offset with less than this share of the usual difference is the right one, even if an outline runs along the seam there. */
const CLEAR = 0.2;

/** The offset p/q at which two edges meet, where there is one. */
function meet(picture: LabPicture, far: "right" | "bottom", near: "left" | "top"): Meeting | undefined {
  const channels = picture.planes.length;
  const [last, beforeLast] = edgeLines(picture, far) as [Float32Array, Float32Array];
  const [first, second] = edgeLines(picture, near) as [Float32Array, Float32Array];
  const length = last.length / channels;
  const inside = Math.max(
    0.5,
    (differ(last, beforeLast, 0, channels) + differ(first, second, 0, channels)) / 2,
  );
  const offsets: { p: number; q: number; jump: number }[] = [];
  for (let q = 1; q <= LARGEST_Q; q++)
    for (let p = q === 1 ? 0 : 1; p < Math.max(1, q); p++) {
      if (offsets.some((one) => one.p * q === p * one.q)) continue;
      offsets.push({ p, q, jump: differ(last, first, Math.round((p * length) / q), channels) });
    }
  const jumps = offsets.map((one) => one.jump).sort((one, other) => one - other);
  const [least = 0, median = 0] = [jumps[0], jumps[jumps.length >> 1]];
  const clear = least <= CLEAR * median && least <= 3 * LIKE_INSIDE * inside;
  if (least > LIKE_INSIDE * inside && !clear) return undefined;
  const best = offsets.find((one) => one.jump <= least * 1.05 + 0.05);
  if (!best) return undefined;
  const open = median < LIKE_INSIDE * inside || least > 0.5 * median;
  return open ? { p: 0, q: 1, open } : { p: best.p, q: best.q, open };
}

/** The layout in which a picture's own edges meet, if they do. Sizes in pixels of the image. */
export function readTile(picture: LabPicture): TileReading | undefined {
  const sides = meet(picture, "right", "left");
  const ends = meet(picture, "bottom", "top");
  if (!sides || !ends || (sides.q > 1 && ends.q > 1)) return undefined;
  // Edges that nothing crosses fit at every offset: no proof at all.
  if (sides.open && ends.open) return undefined;
  const layout: FoundLayout =
    sides.q === 2
      ? "half-drop"
      : ends.q === 2
        ? "brick"
        : sides.q > 2
          ? { kind: "stepped", along: "column", step: { p: sides.p, q: sides.q } }
          : ends.q > 2
            ? { kind: "stepped", along: "row", step: { p: ends.p, q: ends.q } }
            : "straight";
  return {
    layout,
    width: picture.width * picture.scaleX,
    height: picture.height * picture.scaleY,
    confidence: sides.open || ends.open ? 0.4 : 0.7,
  };
}
