export {
  clusterInks,
  type InkMove,
  type InkReduction,
  type WeightedInk,
} from "./cluster-inks.js";
export { colourway } from "./colourway.js";
export { type ColourwayFormat, readColourways, writeColourways } from "./colourway-table.js";
export { checkGamut, compareInks, MERGE_BELOW, type NearInk, nearestInk } from "./compare-inks.js";
export { contrastRatio } from "./contrast.js";
export { fromOklch, toLab, toOklab, toOklch } from "./convert.js";
export { type DerivedInks, type DeriveOptions, deriveInks } from "./derive-inks.js";
export { ciede2000, colourDifference } from "./difference.js";
export { type GamutMove, measureGamut } from "./gamut.js";
export { pickColourway } from "./pick-colourway.js";
export { type Colour, type ColourObject, readColour, readColourObject, readInk } from "./read.js";
export type { Lab, Oklab, Oklch, WhitePoint } from "./spaces.js";
export type { Colourway } from "./types.js";
export { simulateVision, type Vision } from "./vision.js";
