export { type MotifOptions, motif } from "./motif.js";
export { recolourMotif } from "./recolour.js";
export type { InkUse, Motif } from "./types.js";
