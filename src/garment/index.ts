export type { BeyondCloth } from "./cloth-need.js";
export { DRAPE_TOLERANCE, dress } from "./dress.js";
export type { Dressed, DressedPanel, DressReport } from "./dressed.js";
export type { DrapeOptions, DressOptions, PanelOptions, Spot } from "./options.js";
export { readSketch, type SketchOptions } from "./read-sketch.js";
export { recolourDressed } from "./recolour-dressed.js";
export { sketchScale } from "./sketch-scale.js";
export type { Edge, PanelChoice, ScaleOptions, Sketch, SketchScale, SketchShape } from "./types.js";
export { type WriteDressedOptions, writeDressed } from "./write-dressed.js";
