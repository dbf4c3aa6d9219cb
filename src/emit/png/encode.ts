import { anObject } from "../../checks.js";
import { RepetendError } from "../../errors.js";
import { anImage } from "../../image/checks.js";
import type { PixelImage } from "../../image/index.js";
import { aPngHeader, aPngPiece, aSeries } from "../checks.js";
import { joinAdler32 } from "../deflate/checksum.js";
import { type PngColour, type PngHeader, pngChunk, pngStart } from "./format.js";
import { compressRows, PIECES_END, type PngPiece } from "./piece.js";

/** The two bytes in front of a zlib stream: deflate, 32 kB window, default level (RFC 1950, section 2.2). */
export const PNG_ZLIB_START: Uint8Array = Uint8Array.of(0x78, 0x9c);

/** The last four bytes of a zlib stream: its checksum (RFC 1950, section 2.2). */
export const pngChecksum = (value: number): Uint8Array =>
  Uint8Array.of(value >>> 24, (value >>> 16) & 255, (value >>> 8) & 255, value & 255);

/**
 * A PNG from pieces that were compressed apart: start, one IDAT a piece, end.
 *
 * @throws `RepetendError` E_SIZE, E_TOO_LARGE, E_FORMAT, E_COLOUR for what a PNG cannot hold; E_ARGUMENT for values of
 * a wrong kind.
 */
export function joinPng(
  header: PngHeader,
  pieces: AsyncIterable<PngPiece>,
): AsyncGenerator<Uint8Array, void, undefined> {
  aPngHeader(header, "header");
  aSeries(pieces, "pieces");
  return writePieces(header, pieces);
}

async function* writePieces(
  header: PngHeader,
  pieces: AsyncIterable<PngPiece>,
): AsyncGenerator<Uint8Array, void, undefined> {
  yield pngStart(header);
  let adler = 1;
  let start: readonly Uint8Array[] = [PNG_ZLIB_START];
  for await (const piece of pieces) {
    aPngPiece(piece, "pieces");
    adler = joinAdler32(adler, piece.adler, piece.length);
    yield pngChunk("IDAT", ...start, piece.deflated);
    start = [];
  }
  yield pngChunk("IDAT", PIECES_END, pngChecksum(adler));
  yield pngChunk("IEND");
}

/** Compresses bands in order, one in the background while the next is fetched. */
async function* compressBands(
  header: PngHeader,
  bands: AsyncIterable<PixelImage> | Iterable<PixelImage>,
): AsyncGenerator<PngPiece, void, undefined> {
  let rows = 0;
  let waiting: Promise<PngPiece> | undefined;
  for await (const band of bands) {
    anImage(band, "bands");
    rows += band.height;
    if (band.width !== header.width || rows > header.height) {
      throw new RepetendError("E_IMAGE", "the bands do not fit the picture", {
        value: `${band.width} x ${rows}`,
        accepted: `${header.width} x ${header.height}`,
      });
    }
    const piece = compressRows(band, header.colour);
    piece.catch(() => {}); // awaited below; a failure must not surface before that
    if (waiting !== undefined) yield await waiting;
    waiting = piece;
  }
  if (rows !== header.height || waiting === undefined) {
    throw new RepetendError("E_IMAGE", "the bands do not fill the picture", {
      value: `${rows} rows`,
      accepted: `${header.height} rows`,
    });
  }
  yield await waiting;
}

/**
 * A PNG as a stream of byte pieces, from bands of whole rows, top first. Holds two bands in memory at most. The same
 * bands and header give the same bytes; where the bands are cut shows in the bytes, not in the picture.
 *
 * @throws `RepetendError` E_SIZE, E_TOO_LARGE, E_FORMAT, E_COLOUR for what a PNG cannot hold; E_IMAGE for bands
 * that do not fit the header.
 */
export function streamPng(
  header: PngHeader,
  bands: AsyncIterable<PixelImage> | Iterable<PixelImage>,
): AsyncGenerator<Uint8Array, void, undefined> {
  aPngHeader(header, "header");
  aSeries(bands, "bands");
  return joinPng(header, compressBands(header, bands));
}

/** How {@link encodePng} stores a picture. */
export interface EncodePngOptions {
  /** Default: grey, RGB or RGBA after the picture's channels. */
  readonly colour?: PngColour;
  /** Dots per inch along each axis; default: the picture's own. */
  readonly dpi?: { readonly x: number; readonly y: number };
  /** Keywords and texts to keep in the file. */
  readonly texts?: Readonly<Record<string, string>>;
}

const COLOUR_OF_CHANNELS: Readonly<Record<PixelImage["channels"], PngColour>> = {
  1: { kind: "grey", depth: 8 },
  3: { kind: "rgb" },
  4: { kind: "rgba" },
};

/**
 * A whole picture as the bytes of a PNG.
 *
 * @throws `RepetendError` E_SIZE, E_TOO_LARGE, E_FORMAT, E_COLOUR or E_IMAGE as {@link streamPng}.
 *
 * @example
 * ```ts
 * import { encodePng } from "repetend/emit";
 * const pixels = { width: 1, height: 1, channels: 3, data: Uint8Array.of(27, 42, 65), stride: 3 } as const;
 * const bytes = await encodePng(pixels, { dpi: { x: 300, y: 300 } });
 * bytes[24]; // 8
 * ```
 */
export async function encodePng(image: PixelImage, options: EncodePngOptions = {}): Promise<Uint8Array> {
  anImage(image, "image");
  anObject(options, "options");
  const dpi = options.dpi ?? image.dpi;
  const header: PngHeader = {
    width: image.width,
    height: image.height,
    colour: options.colour ?? COLOUR_OF_CHANNELS[image.channels],
    ...(dpi === undefined ? {} : { dpi }),
    ...(options.texts === undefined ? {} : { texts: options.texts }),
  };
  const parts: Uint8Array[] = [];
  for await (const part of streamPng(header, [image])) parts.push(part);
  return Buffer.concat(parts);
}
