export type { BoardPage, PageFormat } from "./page/paper.js";
export { colourwayBoard } from "./sheets/colourway-board.js";
export { lineSheet } from "./sheets/line-sheet.js";
export { specSheet } from "./sheets/spec-sheet.js";
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
