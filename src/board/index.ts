export { specSheet } from "./spec-sheet.js";
export type { SheetCoverage, SheetSeams, SpecSheetOptions } from "./types.js";
