import type { Colourway } from "../colour/index.js";
import { inksIn, isPure, mainInks, spreadBand } from "../image/index.js";
import { dropAlpha, planeInks, type RenderPrintOptions, renderBands, streamPlanes } from "../raster/index.js";
import { describeRepeat, type PixelGrid, type Print, recolour } from "../repeat/index.js";
import { joinPng, streamPng } from "./png.js";
import type { PngColour, PngHeader } from "./png-format.js";
import { compressRows, type PngPiece } from "./png-piece.js";

/** What tells the PNG of a tile from others of the same print. */
export interface TilePngOptions extends RenderPrintOptions {
  /** Called after each band, with the rows done. */
  readonly onRows?: (done: number) => void;
}

/** What stands in front of the pixels of a tile in one colourway. */
export function tileHeader(
  print: Print,
  grid: PixelGrid,
  colourway: Colourway,
  colour: PngColour,
): PngHeader {
  return {
    ...grid.tile,
    colour,
    dpi: grid.dpi,
    texts: { Title: print.name, Repeat: describeRepeat(print), Colourway: colourway.name },
  };
}

/**
 * The PNG of a tile in one colourway, as a stream of byte pieces: RGB, or RGBA where bare cloth may show.
 *
 * @throws `RepetendError` E_RENDER when the renderer fails.
 */
export function streamTilePng(
  print: Print,
  grid: PixelGrid,
  colourway: Colourway,
  options: TilePngOptions = {},
): AsyncGenerator<Uint8Array, void, undefined> {
  const isOpaque = print.ground !== undefined;
  async function* bands() {
    let done = 0;
    for await (const band of renderBands(recolour(print, colourway), grid, options)) {
      done += band.height;
      yield isOpaque ? dropAlpha(band) : band;
      options.onRows?.(done);
    }
  }
  return streamPng(tileHeader(print, grid, colourway, { kind: isOpaque ? "rgb" : "rgba" }), bands());
}

/** A hard-edged tile: which ink each pixel has, compressed. Every colourway is this with another palette. */
export interface InkPieces {
  /** The inks as drawn, and bare cloth where there is some, in the order of their places. */
  readonly entries: readonly string[];
  readonly pieces: readonly PngPiece[];
}

/** A palette holds so many entries (PNG specification, section 11.2.2). */
const PALETTE_LIMIT = 256;

/**
 * Renders a tile with hard edges as places in a palette, once for all colourways. `undefined` when the print has more
 * inks than a palette holds, or paints shades between them (gradients, opacities).
 *
 * @param print without filters, blend modes and pictures.
 * @throws `RepetendError` E_RENDER when the renderer fails.
 */
export async function makeInkPieces(
  print: Print,
  grid: PixelGrid,
  options: TilePngOptions = {},
): Promise<InkPieces | undefined> {
  const entries = planeInks(print);
  if (entries.length === 0 || entries.length > PALETTE_LIMIT) return undefined;
  const pieces: PngPiece[] = [];
  for await (const band of streamPlanes(print, grid, { ...options, edges: "hard" })) {
    if (!isPure(band.table)) return undefined;
    const done = band.y + band.height;
    const places = spreadBand(band, Uint8Array.from(mainInks(band.table).inks));
    pieces.push(await compressRows(places, { kind: "palette", entries }, done === grid.tile.height));
    options.onRows?.(done);
  }
  return { entries, pieces };
}

/** The PNG of a hard-edged tile in one colourway: nothing is rendered or compressed again. */
export function streamInkPng(
  print: Print,
  grid: PixelGrid,
  colourway: Colourway,
  { entries, pieces }: InkPieces,
): AsyncGenerator<Uint8Array, void, undefined> {
  const colours = inksIn({ inks: entries }, colourway);
  async function* all() {
    yield* pieces;
  }
  return joinPng(tileHeader(print, grid, colourway, { kind: "palette", entries: colours }), all());
}
