import type { PixelImage } from "../image/index.js";
import { pixelInk } from "./ink-set.js";

/** Two windows of the same size on two pictures: where each begins, in whole pixels. */
export interface PixelWindows {
  readonly width: number;
  readonly height: number;
  readonly one: { readonly image: PixelImage; readonly x: number; readonly y: number };
  readonly other: { readonly image: PixelImage; readonly x: number; readonly y: number };
}

/** What differs, counted in pixels; the first one in reading order. */
export interface PixelsApart {
  readonly pixels: number;
  readonly all: number;
  /** The largest difference met, in levels of 255. */
  readonly worst: number;
  readonly first:
    | { readonly x: number; readonly y: number; readonly one: string; readonly other: string }
    | undefined;
}

type Rgba = readonly [number, number, number, number];

function rgbaAt({ channels, data, stride }: PixelImage, x: number, y: number): Rgba {
  const at = y * stride + x * channels;
  const byte = (channel: number) => data[at + channel] ?? 0;
  if (channels === 1) return [byte(0), byte(0), byte(0), 255];
  return [byte(0), byte(1), byte(2), channels === 4 ? byte(3) : 255];
}

/** By how many levels two pixels differ on any cloth: what is hardly there counts hardly. */
function levelsApart(one: Rgba, other: Rgba): number {
  const cover = (pixel: Rgba, channel: number) => ((pixel[channel] ?? 0) * pixel[3]) / 255;
  return Math.max(
    Math.abs(one[3] - other[3]),
    ...[0, 1, 2].map((channel) => Math.abs(cover(one, channel) - cover(other, channel))),
  );
}

/** Compares two windows pixel by pixel; up to so many levels are no difference. */
export function comparePixels({ width, height, one, other }: PixelWindows, tolerance: number): PixelsApart {
  let [pixels, worst] = [0, 0];
  let first: PixelsApart["first"];
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const apart = levelsApart(
        rgbaAt(one.image, one.x + x, one.y + y),
        rgbaAt(other.image, other.x + x, other.y + y),
      );
      if (apart <= tolerance) continue;
      pixels++;
      worst = Math.max(worst, apart);
      first ??= {
        x,
        y,
        one: pixelInk(one.image, one.x + x, one.y + y) ?? "bare",
        other: pixelInk(other.image, other.x + x, other.y + y) ?? "bare",
      };
    }
  }
  return { pixels, all: width * height, worst, first };
}
