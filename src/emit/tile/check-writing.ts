import { layersInWindow, pixelPrint } from "../../repeat/index.js";
import { pngStart } from "../png/format.js";
import { checkTiffHeader } from "../tiff/format.js";
import { pictureOf } from "./picture.js";
import { type PlannedTileFile, windowOf } from "./plan.js";
import { type Writing, worksFirst } from "./write-shape.js";

/** Refuses drawings of more motifs than can be listed; how many there are is the same in every colourway. */
function checkDrawings({ plan, style }: Writing, files: readonly PlannedTileFile[]): void {
  const drawings = files.filter(({ file }) => file.format === "svg");
  for (const kind of new Set(drawings.map(({ file }) => file.kind))) {
    layersInWindow(plan.print, windowOf(plan, kind));
  }
  const [part] = style.plan.tasks[0]?.parts ?? [];
  if (drawings.length < files.length && part !== undefined) {
    layersInWindow(pixelPrint(plan.print, plan.grid), part);
  }
}

/**
 * Refuses files that could not be written, by all that can be known before anything is drawn: how much a drawing
 * would show, what a format holds, and what its maker takes on.
 *
 * @param files those that are not finished.
 * @throws `RepetendError` E_INSTANCES, E_SIZE, E_TOO_LARGE, E_FORMAT or E_COLOUR.
 */
export function checkWriting(writing: Writing, files: readonly PlannedTileFile[]): void {
  const { style, maker } = writing;
  checkDrawings(writing, files);
  for (const planned of files) {
    if (planned.file.format === "svg") continue;
    const picture = pictureOf(style, planned, false);
    if (picture.format === "tiff") checkTiffHeader(picture.header);
    else pngStart(picture.header);
  }
  if (maker.check === undefined) return;
  for (const work of worksFirst(writing, files)) maker.check(work);
}
