import { RepetendError } from "../../errors.js";
import type { PixelImage } from "../../image/index.js";
import { checkPixels } from "../check-picture.js";
import { isFlat } from "./flat.js";
import { bitsPerPixel, channelsOf, type PngColour, rowBytes } from "./format.js";

/** Packs one byte a pixel into `bits` a pixel, the left pixel in the high bits. */
function packRow(row: Uint8Array, bits: number, threshold: boolean, into: Uint8Array): void {
  const perByte = 8 / bits;
  for (let x = 0; x < row.length; x++) {
    const value = threshold ? (row[x] ?? 0) >> 7 : (row[x] ?? 0);
    const place = (x / perByte) | 0;
    into[place] = (into[place] ?? 0) | (value << (8 - bits - (x % perByte) * bits));
  }
}

/** PNG specification, section 9.4. */
function paeth(left: number, up: number, corner: number): number {
  const toLeft = Math.abs(up - corner);
  const toUp = Math.abs(left - corner);
  const toCorner = Math.abs(left + up - 2 * corner);
  return toLeft <= toUp && toLeft <= toCorner ? left : toUp <= toCorner ? up : corner;
}

/** The size of a byte read as a signed difference: 255 counts as 1. */
const weigh = (byte: number): number => (byte < 128 ? byte : 256 - byte);

/**
 * Chooses the filter with the smallest sum of differences (PNG specification, section 12.7) among None, Sub, Up and
 * Paeth. Without a row above only None and Sub are tried, so that a piece never depends on the piece before it.
 */
function filterRow(row: Uint8Array, above: Uint8Array | undefined, step: number, into: Uint8Array): void {
  const out = into.subarray(1);
  if (above !== undefined && Buffer.compare(row, above) === 0) {
    into[0] = 2; // the differences are all 0, as the buffer already is
    return;
  }
  let [none, sub, up, both] = [0, 0, 0, 0];
  for (let i = 0; i < row.length; i++) {
    const value = row[i] ?? 0;
    const left = i < step ? 0 : (row[i - step] ?? 0);
    none += weigh(value);
    sub += weigh((value - left) & 255);
    if (above !== undefined) {
      const over = above[i] ?? 0;
      up += weigh((value - over) & 255);
      both += weigh((value - paeth(left, over, i < step ? 0 : (above[i - step] ?? 0))) & 255);
    }
  }
  const best = above === undefined ? Math.min(none, sub) : Math.min(none, sub, up, both);
  if (best === none) {
    out.set(row);
  } else if (best === sub) {
    into[0] = 1;
    for (let i = 0; i < row.length; i++) out[i] = (row[i] ?? 0) - (i < step ? 0 : (row[i - step] ?? 0));
  } else if (above !== undefined) {
    into[0] = best === up ? 2 : 4;
    for (let i = 0; i < row.length; i++) {
      const over = above[i] ?? 0;
      const left = i < step ? 0 : (row[i - step] ?? 0);
      const corner = i < step ? 0 : (above[i - step] ?? 0);
      out[i] = (row[i] ?? 0) - (best === up ? over : paeth(left, over, corner));
    }
  }
}

function checkPlaces({ data }: PixelImage, count: number): void {
  let most = 0;
  for (let at = 0; at < data.length; at++) most = Math.max(most, data[at] as number);
  if (most < count) return;
  throw new RepetendError("E_IMAGE", "a pixel points past the end of the palette", {
    value: String(most),
    accepted: `indices below ${count}`,
  });
}

/**
 * The rows of a picture as a PNG stores them before compression: a filter byte, then the packed or filtered row.
 * Palettes and single bits are not filtered, since their neighbours' differences mean nothing, nor are flat inks.
 *
 * @throws `RepetendError` E_IMAGE when the picture's channels or bytes do not fit the kind of colour.
 */
export function filterRows(image: PixelImage, colour: PngColour): Uint8Array {
  const channels = channelsOf(colour);
  const used = image.width * channels;
  checkPixels(image, channels);
  if (colour.kind === "palette") checkPlaces(image, colour.entries.length);
  const bits = bitsPerPixel(colour);
  const stored = rowBytes({ width: image.width, colour });
  const out = new Uint8Array((stored + 1) * image.height);
  const unfiltered = colour.kind === "palette" || isFlat(image);
  const rowAt = (y: number) => image.data.subarray(y * image.stride, y * image.stride + used);
  for (let y = 0; y < image.height; y++) {
    const into = out.subarray(y * (stored + 1), (y + 1) * (stored + 1));
    if (bits < 8) packRow(rowAt(y), bits, colour.kind === "grey", into.subarray(1));
    else if (unfiltered) into.set(rowAt(y), 1);
    else filterRow(rowAt(y), y === 0 ? undefined : rowAt(y - 1), channels, into);
  }
  return out;
}
