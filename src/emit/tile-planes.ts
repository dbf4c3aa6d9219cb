import type { Colourway } from "../colour/index.js";
import { countMixes, inksIn, mixColours } from "../image/index.js";
import { planeInks, streamPlanes } from "../raster/index.js";
import type { PixelGrid, Print } from "../repeat/index.js";
import type { WrittenFile } from "./atomic.js";
import { PngSink } from "./png-sink.js";
import { CopyFinder } from "./run-copies.js";
import { writeRunPiece } from "./run-piece.js";
import { findTokens } from "./run-tokens.js";
import { type TilePngOptions, tileHeader } from "./tile-png.js";
import { writeTogether } from "./write-together.js";

/** One colourway and where its picture goes. */
export interface PlanePng {
  readonly path: string;
  readonly colourway: Colourway;
}

/**
 * Writes the PNG of a tile in several colourways at once from its ink planes, RGB, or RGBA where bare cloth may show.
 * Each band is rendered and searched for repetitions once; a colourway more costs only writing it down.
 *
 * @param print without filters, blend modes and pictures.
 * @throws `RepetendError` E_RENDER when the renderer fails, E_WRITE when a file cannot be written.
 */
export function writePlanePngs(
  print: Print,
  grid: PixelGrid,
  pngs: readonly PlanePng[],
  options: TilePngOptions = {},
): Promise<readonly WrittenFile[]> {
  const isOpaque = print.ground !== undefined;
  const inks = planeInks(print);
  return writeTogether(
    pngs.map(({ path }) => path),
    async (sinks) => {
      const finder = new CopyFinder();
      const writers = sinks.map((sink) => new PngSink(sink));
      const coloured = pngs.map(({ colourway }) => inksIn({ inks }, colourway));
      for (const [at, { colourway }] of pngs.entries()) {
        await writers[at]?.start(tileHeader(print, grid, colourway, { kind: isOpaque ? "rgb" : "rgba" }));
      }
      for await (const band of streamPlanes(print, grid, options)) {
        const done = band.y + band.height;
        const last = done === grid.tile.height;
        const runs = { rows: band.rows, ends: band.ends, values: band.mixes };
        const tokens = findTokens(runs, band, isOpaque ? 3 : 4, countMixes(band.table), finder);
        for (const [at, writer] of writers.entries()) {
          options.signal?.throwIfAborted();
          await writer.add(writeRunPiece(tokens, mixColours(band.table, coloured[at] ?? []), last));
        }
        options.onRows?.(done);
      }
      for (const writer of writers) await writer.end();
    },
  );
}
