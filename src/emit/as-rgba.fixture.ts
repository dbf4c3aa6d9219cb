import type { PixelImage } from "../image/index.js";
import type { PngColour } from "./png/format.js";
import type { TiffColour } from "./tiff/format.js";

/** The picture as RGBA, computed straight from what was handed in. */
export function asRgba(image: PixelImage, colour: PngColour | TiffColour): Uint8Array {
  const out = new Uint8Array(image.width * image.height * 4).fill(255);
  for (let y = 0; y < image.height; y++) {
    for (let x = 0; x < image.width; x++) {
      const at = y * image.stride + x * image.channels;
      const to = (y * image.width + x) * 4;
      const level = image.data[at] ?? 0;
      if (colour.kind === "palette") out.set(Buffer.from((colour.entries[level] ?? "").slice(1), "hex"), to);
      else if (colour.kind === "grey")
        out.fill(colour.depth === 1 ? (level >= 128 ? 255 : 0) : level, to, to + 3);
      else out.set(image.data.subarray(at, at + image.channels), to);
    }
  }
  return out;
}
