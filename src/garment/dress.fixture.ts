import { expect } from "vitest";
import type { RepetendError } from "../errors.js";
import type { Print } from "../repeat/index.js";
import { dress } from "./dress/dress.js";
import { writeDressed } from "./dress/write-dressed.js";
import type { PanelOptions } from "./options.js";
import { readSketch } from "./sketch/read-sketch.js";
import { choosePanels } from "./sketch/select.js";
import { shoreBorder } from "./sketches.fixture.js";
import type { Sketch, SketchShape } from "./types.js";

/** The length of the wrap dress, and what it is in cloth. */
export const SCALE: { readonly of: "#length-line"; readonly is: "82cm" } = { of: "#length-line", is: "82cm" };
/** Two user units a mm of the page: the fixture's. */
export const PAGE_UNIT: number = 0.5;
/** On the page, in mm. */
export const EDGE_TOLERANCE: number = 0.02;
export const HEM_INK: string = "#7a8b5f";

/** A refusal with this code. */
export const refused = (code: string): RepetendError => expect.objectContaining({ code }) as RepetendError;
/** The one panel of this id. */
export const one = (sketch: Sketch, id: string): SketchShape => {
  const [shape] = choosePanels(sketch, id);
  if (!shape) throw new Error("no panel");
  return shape;
};
/** The wrap dress, dressed and written. */
export const write = (
  sketch: Sketch,
  panels: readonly PanelOptions[],
  print: Print = shoreBorder(),
): string => writeDressed(dress(sketch, print, { scale: SCALE, panels }));

/** A square page of 100 mm, one unit a mm, with one panel, true to size. */
export const page = (panel: string): Sketch =>
  readSketch(
    `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">` +
      `<line id="l" x1="0" y1="0" x2="0" y2="100" stroke="#000"/>${panel}</svg>`,
  );
export const TRUE_SIZE: { readonly of: "#l"; readonly is: "100mm" } = { of: "#l", is: "100mm" };
