import type { Colourway } from "../colour/index.js";
import type { PixelImage } from "../image/index.js";
import type { PngColour } from "./png-format.js";
import { compressRows, type PngPiece } from "./png-piece.js";

/** How the rows of one file are stored. */
export interface Encoding {
  readonly format: "png";
  readonly colour: PngColour;
  /** Of places in a palette it is any. */
  readonly colourway: Colourway;
}

/** Rows in a file's own way, compressed by themselves. */
export interface EncodedRows {
  readonly format: "png";
  readonly pieces: readonly PngPiece[];
}

/** Stores rows of pixels, in the background. */
export async function encodeRows(rows: PixelImage, { colour }: Encoding): Promise<EncodedRows> {
  return { format: "png", pieces: [await compressRows(rows, colour)] };
}

/** Rows one below the other. */
export function joinRows(some: readonly EncodedRows[]): EncodedRows {
  return { format: "png", pieces: some.flatMap(({ pieces }) => pieces) };
}
