import { join } from "node:path";
import type { Box } from "../../geometry/index.js";
import { renderBands } from "../../raster/index.js";
import { recolour } from "../../repeat/index.js";
import { type FileSink, writeAtomically } from "../files/atomic.js";
import { pictureOf } from "./picture.js";
import { leavesCloth, type PlannedTileFile } from "./plan.js";
import { writePicture } from "./write-picture.js";
import type { Writing } from "./write-shape.js";

/** Writes a window of the field, which is small: rendered and stored in this process. */
export async function writeWindow(writing: Writing, planned: PlannedTileFile, window: Box): Promise<void> {
  const { plan, style, engine, signal, edges, dir, onRows, finish } = writing;
  const { file, colourway } = planned;
  const isBare = leavesCloth(plan.print, plan.grid, window);
  const shown = isBare ? { ...style, print: { ...plan.print, ground: undefined } } : style;
  onRows(planned, 0);
  async function* bands() {
    let done = 0;
    const rendering = {
      edges,
      window,
      ...(engine === undefined ? {} : { engine }),
      ...(signal === undefined ? {} : { signal }),
    };
    for await (const band of renderBands(recolour(plan.print, colourway), plan.grid, rendering)) {
      done += band.height;
      yield band;
      onRows(planned, done);
    }
  }
  const write = (sink: FileSink) =>
    writePicture(sink, pictureOf(shown, planned, false), bands(), style.profile);
  finish(planned, await writeAtomically(join(dir, file.path), write), []);
}
