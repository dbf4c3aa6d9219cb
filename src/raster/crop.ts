import { RepetendError } from "../errors.js";
import type { Box } from "../geometry/box.js";
import { aCount } from "../image/checks.js";
import type { PixelImage } from "../image/index.js";
import { anRgbaImage, aWholeImage, checkInside } from "./checks.js";

/**
 * A part of a picture, in whole pixels inside it, as a view: the bytes are shared, only the stride stays.
 *
 * @throws `RepetendError` E_IMAGE for a part that leaves the picture, E_ARGUMENT for values of a wrong kind.
 */
export function cropImage(image: PixelImage, part: Box): PixelImage {
  aWholeImage(image, "image");
  checkInside(image, part);
  const { x, y, width, height } = part;
  const start = y * image.stride + x * image.channels;
  const end = start + (height - 1) * image.stride + width * image.channels;
  return { ...image, width, height, data: image.data.subarray(start, end) };
}

/** A picture of nothing, RGBA. */
export function clearImage(width: number, height: number): PixelImage {
  const stride = width * 4;
  return { width, height, channels: 4, data: new Uint8Array(stride * height), stride };
}

/**
 * Copies a picture into a larger one of the same channels, its upper left corner at (x, y).
 *
 * @throws `RepetendError` E_IMAGE for a picture that does not fit there, E_ARGUMENT for values of a wrong kind.
 */
export function pasteImage(image: PixelImage, into: PixelImage, x: number, y: number): void {
  aWholeImage(image, "image");
  aWholeImage(into, "into");
  aCount(x, "x");
  aCount(y, "y");
  if (image.width === 0 || image.height === 0) return;
  checkInside(into, { x, y, width: image.width, height: image.height });
  if (image.channels !== into.channels) {
    throw new RepetendError("E_IMAGE", "the pictures have not the same channels", {
      value: `${image.channels} channels into ${into.channels}`,
    });
  }
  const used = image.width * image.channels;
  for (let row = 0; row < image.height; row++) {
    const from = row * image.stride;
    into.data.set(image.data.subarray(from, from + used), (y + row) * into.stride + x * into.channels);
  }
}

/**
 * The colours of an RGBA picture without their alpha, for pictures that are opaque all over.
 *
 * @throws `RepetendError` E_IMAGE for another picture, E_ARGUMENT for a value of a wrong kind.
 */
export function dropAlpha(image: PixelImage): PixelImage {
  anRgbaImage(image, "image");
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
