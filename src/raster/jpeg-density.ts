import type { Density } from "./density.js";
import { tiffDensity } from "./tiff-density.js";

const APP0 = 0xe0;
const APP1 = 0xe1;
const START_OF_SCAN = 0xda;

/** Dots per inch to one of each unit of JFIF 1.02; 0 stands for proportions without a size. */
const PER_INCH: Readonly<Record<number, number>> = { 1: 1, 2: 2.54 };

const startsWith = (bytes: Uint8Array, text: string): boolean =>
  [...text].every((sign, index) => bytes[index] === sign.charCodeAt(0));

/**
 * The resolution that a JPEG states for each axis, in its Exif data or else its JFIF header. Image libraries answer
 * with 72 where a file says nothing.
 */
export function jpegDensity(bytes: Uint8Array): Density | undefined {
  let stated: Density | undefined;
  // ITU-T T.81, annex B: segments with their lengths follow each other until the pixels.
  for (let at = 2; bytes[at] === 0xff; ) {
    const marker = bytes[at + 1] ?? START_OF_SCAN;
    if (marker === START_OF_SCAN) break;
    const length = (bytes[at + 2] ?? 0) * 256 + (bytes[at + 3] ?? 0);
    const body = bytes.subarray(at + 4, at + 2 + length);
    // Exif holds a TIFF of its own (Exif 2.3, section 4.5.2), and knows better.
    if (marker === APP1 && startsWith(body, "Exif\0\0")) return tiffDensity(body.subarray(6)) ?? stated;
    if (marker === APP0 && startsWith(body, "JFIF\0")) stated = readJfif(body);
    // A marker may be preceded by any number of fill bytes.
    at += marker === 0xff ? 1 : 2 + length;
  }
  return stated;
}

/** JFIF 1.02: the name, two bytes of version, the unit, then two numbers of 16 bits. */
function readJfif(body: Uint8Array): Density | undefined {
  const factor = PER_INCH[body[7] ?? 0];
  const word = (at: number) => (body[at] ?? 0) * 256 + (body[at + 1] ?? 0);
  const [x, y] = [word(8), word(10)];
  return factor === undefined || x === 0 || y === 0 ? undefined : { x: x * factor, y: y * factor };
}
