import type { PixelImage } from "../image/index.js";

const hex = (value: number): string => value.toString(16).padStart(2, "0");

/** A pixel's colour: `#rrggbb`, or `#rrggbbaa` where it lets the cloth through; `undefined` for bare cloth. */
export function pixelInk(image: PixelImage, x: number, y: number): string | undefined {
  const { channels, data, stride } = image;
  const at = y * stride + x * channels;
  const [r = 0, g = 0, b = 0] = channels === 1 ? Array(3).fill(data[at]) : data.subarray(at, at + 3);
  const alpha = channels === 4 ? (data[at + 3] ?? 0) : 255;
  if (alpha === 0) return undefined;
  return `#${hex(r)}${hex(g)}${hex(b)}${alpha === 255 ? "" : hex(alpha)}`;
}

/** The colours of a picture, most pixels first, ties by colour. Bare cloth is no ink. */
export function inksOfPixels(image: PixelImage): readonly string[] {
  const pixels = new Map<string, number>();
  for (let y = 0; y < image.height; y++) {
    for (let x = 0; x < image.width; x++) {
      const ink = pixelInk(image, x, y);
      if (ink !== undefined) pixels.set(ink, (pixels.get(ink) ?? 0) + 1);
    }
  }
  return [...pixels]
    .sort((one, other) => other[1] - one[1] || (one[0] < other[0] ? -1 : 1))
    .map(([ink]) => ink);
}
