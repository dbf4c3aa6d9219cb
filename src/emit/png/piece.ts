import { constants } from "node:zlib";
import { anImage } from "../../image/checks.js";
import type { PixelImage } from "../../image/index.js";
import { dropAlpha } from "../../raster/index.js";
import { aPngColour } from "../checks.js";
import { adler32 } from "../deflate/checksum.js";
import { type Zlib, zlibApart } from "../deflate/zlib.js";
import { filterRows } from "./filter.js";
import { flatBytes, isFlat, type PackedRows, packFlat } from "./flat.js";
import type { PngColour } from "./format.js";
import { RowBuffers } from "./row-buffers.js";

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

/** Flat inks are made of runs that a short search finds: a longer one takes twice the time for 14 % of the bytes. */
const LEVELS = { flat: 3, shaded: 6 };

/** Output is taken in so large pieces: each takes a turn on another thread. */
const CHUNK = 2 ** 18;

/** Rows as they are compressed, and how hard. */
interface FilteredRows extends PackedRows {
  readonly level: number;
  /** Where they lie, if it is to be given back. */
  readonly memory?: ArrayBuffer;
}

/** An RGBA picture may be stored without its alpha. */
function rowsOf(band: PixelImage, colour: PngColour, buffers: RowBuffers): FilteredRows {
  const isWhole = colour.kind === "rgb" || colour.kind === "rgba";
  if (isWhole && band.channels === 4 && isFlat(band)) {
    const channels = colour.kind === "rgb" ? 3 : 4;
    // Of whole words, as it is written by them.
    const memory = buffers.take(4 * Math.ceil(flatBytes(band, channels) / 4));
    return { ...packFlat(band, channels, memory), level: LEVELS.flat, memory };
  }
  const rows = filterRows(colour.kind === "rgb" && band.channels === 4 ? dropAlpha(band) : band, colour);
  return { rows, adler: adler32(rows), level: LEVELS.shaded };
}

/**
 * Filters and compresses a band of whole rows, in the background. The band itself is not held meanwhile.
 *
 * @param band of the channels that the kind of colour has; for RGB, RGBA too, whose alpha is left out.
 * @throws `RepetendError` E_IMAGE when the band's channels or bytes do not fit the kind of colour; E_ARGUMENT for values of a wrong
 * kind.
 */
export async function compressRows(band: PixelImage, colour: PngColour): Promise<PngPiece> {
  anImage(band, "band");
  aPngColour(colour, "colour");
  return compressRowsWith({ buffers: new RowBuffers(), zlib: zlibApart }, band, colour);
}

/** What is used again from band to band. */
export interface RowTools {
  readonly buffers: RowBuffers;
  readonly zlib: Zlib;
}

/** As {@link compressRows}, with these tools. */
export async function compressRowsWith(
  tools: RowTools,
  band: PixelImage,
  colour: PngColour,
): Promise<PngPiece> {
  return compressFiltered(rowsOf(band, colour, tools.buffers), tools);
}

/** Without the two bytes in front of a stream (RFC 1950, section 2.2); flushed, it has no checksum at its end. */
async function compressFiltered(
  { rows, adler, level, memory }: FilteredRows,
  { buffers, zlib }: RowTools,
): Promise<PngPiece> {
  const stream = await zlib(rows, {
    level,
    memLevel: 9,
    chunkSize: CHUNK,
    finishFlush: constants.Z_FULL_FLUSH,
  });
  if (memory !== undefined) buffers.give(memory);
  return { deflated: stream.subarray(2), adler, length: rows.length };
}
