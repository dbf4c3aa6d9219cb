export { colourwayBoard } from "./colourway-board.js";
export { lineSheet } from "./line-sheet.js";
export type { BoardPage, PageFormat } from "./paper.js";
export { specSheet } from "./spec-sheet.js";
export type {
  BoardGarment,
  BoardPrint,
  ColourwayBoardOptions,
  LineCloth,
  LineSheetOptions,
  LineStyle,
  SheetCoverage,
  SheetFact,
  SheetHead,
  SheetSeams,
  SpecSheetOptions,
} from "./types.js";
