import { RepetendError } from "../../errors.js";
import type { PixelImage } from "../../image/index.js";
import { checkPixels } from "../check-picture.js";
import { type TiffColour, tiffBits, tiffChannels, tiffRowBytes } from "./format.js";

/**
 * Refuses pixels that do not fit the kind of colour.
 *
 * @throws `RepetendError` E_IMAGE.
 */
export function checkTiffPixels(image: PixelImage, colour: TiffColour): void {
  checkPixels(image, tiffChannels(colour));
}

/** Eight pixels a byte, the left one in the high bit; a set bit is white. */
function packBits(row: Uint8Array, into: Uint8Array): void {
  for (let x = 0; x < row.length; x++) {
    const place = x >> 3;
    into[place] = (into[place] ?? 0) | (((row[x] ?? 0) >> 7) << (7 - (x & 7)));
  }
}

/** Two pixels a byte, the left one in the high bits. */
function packNibbles(row: Uint8Array, into: Uint8Array): void {
  for (let x = 0; x < row.length; x += 2) into[x >> 1] = ((row[x] ?? 0) << 4) | (row[x + 1] ?? 0);
}

/** TIFF 6.0, section 14: each sample as the difference from the same sample of the pixel to its left. */
function takeDifferences(row: Uint8Array, step: number, into: Uint8Array): void {
  for (let i = 0; i < step; i++) into[i] = row[i] ?? 0;
  for (let i = step; i < row.length; i++) into[i] = (row[i] ?? 0) - (row[i - step] ?? 0);
}

/** Refuses places past the end of a palette. */
function checkPlaces(row: Uint8Array, count: number): void {
  let most = 0;
  for (let x = 0; x < row.length; x++) most = Math.max(most, row[x] ?? 0);
  if (most < count) return;
  throw new RepetendError("E_IMAGE", "a pixel points past the end of the palette", {
    value: String(most),
    accepted: `indices below ${count}`,
  });
}

/**
 * Rows of a picture as a TIFF stores them before compression: each starts on a byte.
 *
 * @param image checked by {@link checkTiffPixels}.
 * @param from the first row, and how many.
 * @param predicted whether differences are stored.
 * @throws `RepetendError` E_IMAGE for a pixel past the end of the palette.
 */
export function tiffRows(
  image: PixelImage,
  colour: TiffColour,
  { from, count, predicted }: { readonly from: number; readonly count: number; readonly predicted: boolean },
): Uint8Array {
  const stored = tiffRowBytes({ width: image.width, colour });
  const channels = tiffChannels(colour);
  const bits = tiffBits(colour);
  const out = new Uint8Array(stored * count);
  for (let y = 0; y < count; y++) {
    const start = (from + y) * image.stride;
    const row = image.data.subarray(start, start + image.width * channels);
    const into = out.subarray(y * stored, (y + 1) * stored);
    if (colour.kind === "palette") checkPlaces(row, colour.entries.length);
    if (bits === 1) packBits(row, into);
    else if (bits === 4) packNibbles(row, into);
    else if (predicted) takeDifferences(row, channels, into);
    else into.set(row);
  }
  return out;
}
