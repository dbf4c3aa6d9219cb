export { type Colour, type ColourObject, readColour, readColourObject } from "./read.js";
export type { Lab, Oklab, Oklch, WhitePoint } from "./spaces.js";
export { fromOklch, toLab, toOklab, toOklch } from "./spaces.js";
export type { Colourway } from "./types.js";
