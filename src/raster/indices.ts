export { BARE } from "../image/index.js";

import { aText, listOf } from "../checks.js";
import type { PixelImage } from "../image/index.js";
import { anRgbaImage } from "./checks.js";

/** RGBA as one number, for looking up. */
const keyOf = (entry: string): number => Number.parseInt(entry.slice(1).padEnd(8, "f"), 16);

/**
 * An RGBA picture as one byte a pixel: the place of its colour among the entries (`#rrggbb`, or `BARE`).
 * `undefined` when a pixel has a colour that is not among them.
 *
 * @param entries at most 256, all different.
 * @throws `RepetendError` E_IMAGE for a picture that is not RGBA, E_ARGUMENT for values of a wrong kind.
 */
export function toIndices(image: PixelImage, entries: readonly string[]): PixelImage | undefined {
  anRgbaImage(image, "image");
  listOf(aText)(entries, "entries");
  const places = new Map(entries.map((entry, place) => [keyOf(entry), place]));
  const { width, height, data: pixels } = image;
  const data = new Uint8Array(width * height);
  let lastKey = -1;
  let lastPlace = 0;
  let to = 0;
  for (let y = 0; y < height; y++) {
    let from = y * image.stride;
    for (let x = 0; x < width; x++, from += 4) {
      const colour =
        ((pixels[from] ?? 0) << 24) | ((pixels[from + 1] ?? 0) << 16) | ((pixels[from + 2] ?? 0) << 8);
      const key = (colour | (pixels[from + 3] ?? 0)) >>> 0;
      if (key !== lastKey) {
        const place = places.get(key);
        if (place === undefined) return undefined;
        lastKey = key;
        lastPlace = place;
      }
      data[to++] = lastPlace;
    }
  }
  return { ...image, channels: 1, data, stride: width };
}
