export { contrastRatio } from "./contrast.js";
export { fromOklch, toLab, toOklab, toOklch } from "./convert.js";
export { ciede2000, colourDifference } from "./difference.js";
export { type Colour, type ColourObject, readColour, readColourObject, readInk } from "./read.js";
export type { Lab, Oklab, Oklch, WhitePoint } from "./spaces.js";
export type { Colourway } from "./types.js";
export { simulateVision, type Vision } from "./vision.js";
