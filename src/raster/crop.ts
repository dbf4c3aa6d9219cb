import type { Box } from "../geometry/box.js";
import type { PixelImage } from "../image/index.js";

/** A part of a picture, in whole pixels inside it, as a view: the bytes are shared, only the stride stays. */
export function cropImage(image: PixelImage, { x, y, width, height }: Box): PixelImage {
  const start = y * image.stride + x * image.channels;
  const end = start + (height - 1) * image.stride + width * image.channels;
  return { ...image, width, height, data: image.data.subarray(start, end) };
}

/** Copies a picture into a larger one of the same channels, its upper left corner at (x, y). */
export function pasteImage(image: PixelImage, into: PixelImage, x: number, y: number): void {
  const used = image.width * image.channels;
  for (let row = 0; row < image.height; row++) {
    const from = row * image.stride;
    into.data.set(image.data.subarray(from, from + used), (y + row) * into.stride + x * into.channels);
  }
}

/** The colours of an RGBA picture without their alpha, for pictures that are opaque all over. */
export function dropAlpha(image: PixelImage): PixelImage {
  const { width, height } = image;
  const data = new Uint8Array(width * height * 3);
  let to = 0;
  for (let y = 0; y < height; y++) {
    let from = y * image.stride;
    for (let x = 0; x < width; x++) {
      data[to++] = image.data[from++] ?? 0;
      data[to++] = image.data[from++] ?? 0;
      data[to++] = image.data[from++] ?? 0;
      from++;
    }
  }
  return { ...image, channels: 3, data, stride: width * 3 };
}
