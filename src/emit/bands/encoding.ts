import type { Colourway } from "../../colour/index.js";
import type { PixelImage } from "../../image/index.js";
import { cropImage, dropAlpha } from "../../raster/index.js";
import type { PngColour } from "../png/format.js";
import { compressRowsWith, type PngPiece, type RowTools } from "../png/piece.js";
import type { CmykConverter } from "../profile/cmyk.js";
import { toLabPixels } from "../profile/lab.js";
import type { TiffColour, TiffCompression } from "../tiff/format.js";
import { compressStripsBy } from "../tiff/strips.js";

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
export interface EncodingTools extends RowTools {
  readonly open: OpenConverter;
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

/** Rows of a PNG are compressed at most so many bytes at a time: what is packed of them stays near the processor. */
const PIECE_BYTES = 2 ** 20;

async function encodePieces(
  rows: PixelImage,
  { colour }: PngEncoding,
  tools: EncodingTools,
): Promise<EncodedRows> {
  const { width, channels } = rows;
  const count = Math.max(1, Math.floor(PIECE_BYTES / (width * channels)));
  const pieces: PngPiece[] = [];
  for (let y = 0; y < rows.height; y += count) {
    const height = Math.min(count, rows.height - y);
    pieces.push(await compressRowsWith(tools, cropImage(rows, { x: 0, y, width, height }), colour));
  }
  return { format: "png", pieces };
}

/**
 * Stores rows of pixels.
 *
 * @param rows RGBA, or places in a palette.
 */
export function encodeRows(rows: PixelImage, encoding: Encoding, tools: EncodingTools): Promise<EncodedRows> {
  return encoding.format === "png"
    ? encodePieces(rows, encoding, tools)
    : encodeStrips(rows, encoding, tools);
}

async function encodeStrips(
  rows: PixelImage,
  encoding: TiffEncoding,
  { open, zlib }: EncodingTools,
): Promise<EncodedRows> {
  const converted = await convert(rows, encoding, open);
  return { format: "tiff", strips: await compressStripsBy(zlib, converted, encoding.colour, encoding) };
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
