import type { Colourway } from "../colour/index.js";
import type { PixelImage } from "../image/index.js";
import { dropAlpha } from "../raster/index.js";
import type { CmykConverter } from "./convert-colour.js";
import { toLabPixels } from "./convert-colour-lab.js";
import type { PngColour } from "./png-format.js";
import { compressRowsIn, type PngPiece } from "./png-piece.js";
import type { RowBuffers } from "./row-buffers.js";
import type { TiffColour, TiffCompression } from "./tiff-format.js";
import { compressStrips } from "./tiff-strips.js";

/** How the rows of one file are stored; plain data. */
export type Encoding = PngEncoding | TiffEncoding;

/** Rows of a PNG. */
export interface PngEncoding {
  readonly format: "png";
  readonly colour: PngColour;
  /** Of places in a palette it is any. */
  readonly colourway: Colourway;
}

/** Rows of a TIFF. */
export interface TiffEncoding {
  readonly format: "tiff";
  readonly colour: TiffColour;
  readonly colourway: Colourway;
  readonly compression: TiffCompression;
  readonly rowsPerStrip: number;
  /** Of CMYK: the path of the profile by which pixels are converted. */
  readonly profile?: string;
}

/** Rows in a file's own way, compressed by themselves. */
export type EncodedRows =
  | { readonly format: "png"; readonly pieces: readonly PngPiece[] }
  | { readonly format: "tiff"; readonly strips: readonly Uint8Array[] };

/** Opens the converter of a profile, once for all bands. */
export type OpenConverter = (profile: string) => Promise<CmykConverter>;

/** What the rows of all bands share. */
export interface EncodingTools {
  readonly open: OpenConverter;
  readonly buffers: RowBuffers;
}

/** Pixels in the space of a TIFF. */
async function convert(rows: PixelImage, encoding: TiffEncoding, open: OpenConverter): Promise<PixelImage> {
  const { colour, profile } = encoding;
  if (colour.kind === "rgba" || rows.channels !== 4) return rows;
  const opaque = dropAlpha(rows);
  if (colour.kind === "lab") return toLabPixels(opaque);
  if (colour.kind === "cmyk" && profile !== undefined) return (await open(profile)).convert(opaque);
  return opaque;
}

/**
 * Stores rows of pixels, in the background. PNG rows are not held meanwhile.
 *
 * @param rows RGBA, or places in a palette.
 */
export function encodeRows(
  rows: PixelImage,
  encoding: Encoding,
  { open, buffers }: EncodingTools,
): Promise<EncodedRows> {
  return encoding.format === "png"
    ? compressRowsIn(buffers, rows, encoding.colour).then((piece) => ({ format: "png", pieces: [piece] }))
    : encodeStrips(rows, encoding, open);
}

async function encodeStrips(
  rows: PixelImage,
  encoding: TiffEncoding,
  open: OpenConverter,
): Promise<EncodedRows> {
  const converted = await convert(rows, encoding, open);
  return { format: "tiff", strips: await compressStrips(converted, encoding.colour, encoding) };
}

/** Rows one below the other; all of one format. */
export function joinRows(some: readonly EncodedRows[]): EncodedRows {
  const pieces = some.flatMap((rows) => (rows.format === "png" ? rows.pieces : []));
  if (some[0]?.format === "png") return { format: "png", pieces };
  return { format: "tiff", strips: some.flatMap((rows) => (rows.format === "tiff" ? rows.strips : [])) };
}

/** How many bytes rows take. */
export function countBytes(rows: EncodedRows): number {
  return rows.format === "png"
    ? rows.pieces.reduce((sum, piece) => sum + piece.deflated.length, 0)
    : rows.strips.reduce((sum, strip) => sum + strip.length, 0);
}
