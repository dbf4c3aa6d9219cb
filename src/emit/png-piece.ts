import { promisify } from "node:util";
import { constants, deflateRaw } from "node:zlib";
import type { PixelImage } from "../image/index.js";
import { adler32 } from "./checksum.js";
import { filterRows } from "./png-filter.js";
import type { PngColour } from "./png-format.js";

/**
 * Rows of a PNG, filtered and compressed by themselves. Every piece ends on a full flush, so pieces made apart, in any
 * order, are joined to one stream by laying their bytes end to end; {@link PIECES_END} ends the stream.
 */
export interface PngPiece {
  readonly deflated: Uint8Array;
  /** Of the filtered rows: their checksum and their length in bytes. */
  readonly adler: number;
  readonly length: number;
}

/** An empty last block: what ends a stream of pieces (RFC 1951, section 3.2.6). */
export const PIECES_END: Uint8Array = Uint8Array.of(3, 0);

const compress = promisify(deflateRaw);

/**
 * Filters and compresses a band of whole rows, in the background.
 *
 * @throws `RepetendError` E_IMAGE when the band's channels or bytes do not fit the kind of colour.
 */
export async function compressRows(band: PixelImage, colour: PngColour): Promise<PngPiece> {
  const rows = filterRows(band, colour);
  const deflated = await compress(rows, {
    level: 6,
    memLevel: 9,
    finishFlush: constants.Z_FULL_FLUSH,
  });
  return { deflated, adler: adler32(rows), length: rows.length };
}
