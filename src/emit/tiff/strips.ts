import { anImage } from "../../image/checks.js";
import type { PixelImage } from "../../image/index.js";
import { checkSide } from "../check-picture.js";
import { aTiffColour, storedStrips } from "../checks.js";
import { type Zlib, zlibApart } from "../deflate/zlib.js";
import { isPredicted, TIFF_LIMIT, type TiffColour, type TiffHeader } from "./format.js";
import { encodeLzw } from "./lzw.js";
import { checkTiffPixels, tiffRows } from "./rows.js";

/** So many strips are compressed at once: zlib's threads in Node, and the memory of so many streams. */
const AT_ONCE = 4;

/** One strip, compressed by itself. */
async function compressStrip(
  rows: Uint8Array,
  compression: TiffHeader["compression"],
  zlib: Zlib,
): Promise<Uint8Array> {
  switch (compression) {
    case "none":
      return rows;
    case "lzw":
      return encodeLzw(rows);
    case "deflate":
      return zlib(rows, { level: 6, memLevel: 9 });
  }
}

/**
 * The strips of a band of whole rows, top first, each a stream of its own, so that bands compressed apart in any order
 * lie end to end in a file. Every band but the last of a picture must be of whole strips. Deflate runs in the
 * background.
 *
 * @param band channels as `colour` has them: 1, 3 or 4 bytes a pixel, which for `cmyk` and `lab` are not sRGB.
 * @throws `RepetendError` E_IMAGE when the band's channels or bytes do not fit the kind of colour; E_SIZE or
 * E_TOO_LARGE for a number of rows that no strip has.
 */
export async function compressStrips(
  band: PixelImage,
  colour: TiffColour,
  stored: Pick<TiffHeader, "compression" | "rowsPerStrip">,
): Promise<readonly Uint8Array[]> {
  anImage(band, "band");
  aTiffColour(colour, "colour");
  storedStrips(stored, "stored");
  return compressStripsBy(zlibApart, band, colour, stored);
}

/** As {@link compressStrips}, with Deflate made in this way. */
export async function compressStripsBy(
  zlib: Zlib,
  band: PixelImage,
  colour: TiffColour,
  { compression, rowsPerStrip }: Pick<TiffHeader, "compression" | "rowsPerStrip">,
): Promise<readonly Uint8Array[]> {
  checkSide("TIFF", "rowsPerStrip", rowsPerStrip, TIFF_LIMIT);
  checkTiffPixels(band, colour);
  const predicted = isPredicted({ colour, compression });
  const strips: Uint8Array[] = [];
  for (let y = 0; y < band.height; ) {
    const started: Promise<Uint8Array>[] = [];
    for (; started.length < AT_ONCE && y < band.height; y += rowsPerStrip) {
      const count = Math.min(rowsPerStrip, band.height - y);
      started.push(compressStrip(tiffRows(band, colour, { from: y, count, predicted }), compression, zlib));
    }
    strips.push(...(await Promise.all(started)));
  }
  return strips;
}
