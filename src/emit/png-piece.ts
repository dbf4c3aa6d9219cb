import { promisify } from "node:util";
import { constants, deflateRaw } from "node:zlib";
import type { PixelImage } from "../image/index.js";
import { dropAlpha } from "../raster/index.js";
import { adler32 } from "./checksum.js";
import { filterRows } from "./png-filter.js";
import { type FlatRows, isFlat, packFlat } from "./png-flat.js";
import type { PngColour } from "./png-format.js";

/**
 * Rows of a PNG, filtered and compressed by themselves. Every piece ends on a full flush, so pieces made apart, in any
 * order, are joined to one stream by laying their bytes end to end, and an empty last block ends it.
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

/** Flat inks are made of runs that a short search finds: a longer one takes twice the time for 14 % of the bytes. */
const LEVELS = { flat: 3, shaded: 6 };

/** Output is taken in so large pieces: each takes a turn on another thread. */
const CHUNK = 2 ** 18;

/** The rows as they are compressed. An RGBA picture may be stored without its alpha. */
function rowsOf(band: PixelImage, colour: PngColour): FlatRows & { readonly level: number } {
  const isWhole = colour.kind === "rgb" || colour.kind === "rgba";
  if (isWhole && band.channels === 4 && isFlat(band)) {
    return { ...packFlat(band, colour.kind === "rgb" ? 3 : 4), level: LEVELS.flat };
  }
  const rows = filterRows(colour.kind === "rgb" && band.channels === 4 ? dropAlpha(band) : band, colour);
  return { rows, adler: adler32(rows), level: LEVELS.shaded };
}

/**
 * Filters and compresses a band of whole rows, in the background.
 *
 * @param band of the channels that the kind of colour has; for RGB, RGBA too, whose alpha is left out.
 * @throws `RepetendError` E_IMAGE when the band's channels or bytes do not fit the kind of colour.
 */
export async function compressRows(band: PixelImage, colour: PngColour): Promise<PngPiece> {
  const { rows, adler, level } = rowsOf(band, colour);
  const deflated = await compress(rows, {
    level,
    memLevel: 9,
    finishFlush: constants.Z_FULL_FLUSH,
    chunkSize: CHUNK,
  });
  return { deflated, adler, length: rows.length };
}
