export { allOverPrints } from "./all-over-prints.js";
export { borderPrints } from "./border-prints.js";
export { type ColourwaysOptions, colourways } from "./colourways.js";
export { type LatticeVectorsOptions, latticeVector, latticeVectors } from "./lattice-vectors.js";
export { type LayoutsOptions, layouts } from "./layouts.js";
export type { MatcherResult } from "./matcher.js";
export {
  type JudgedAtOnce,
  type RepetendMatcherFunctions,
  type RepetendMatchers,
  repetendMatchers,
} from "./matchers.js";
export { type MotifsOptions, motifs } from "./motifs.js";
export { type PalettesOptions, palettes } from "./palettes.js";
export type { AllOverPrintsOptions, BorderPrintsOptions, CommonPrintsOptions } from "./print-options.js";
export { type PrintsOptions, prints } from "./prints.js";
export type { CloseSeamsOptions } from "./to-close-seams.js";
export type { RepeatEveryOptions, RepeatVector, ShowCloth } from "./to-repeat-every.js";
export { type WindowsOptions, windows } from "./windows.js";

import "./vitest.js";
