export {
  codeOf,
  type FileSink,
  makeFolder,
  temporaryPrefix,
  type WrittenFile,
  writeAtomically,
} from "./atomic.js";
export {
  type EmitTileOptions,
  type EmittedTile,
  emitTile,
  type TileProgress,
  writeTile,
} from "./emit-tile.js";
export {
  type GarmentPlan,
  type GarmentPlanOptions,
  planGarment,
  type WriteGarmentOptions,
  writeGarment,
} from "./garment-files.js";
export type { Deviation, ManifestFile, PlannedFile } from "./manifest.js";
export { type EncodePngOptions, encodePng, joinPng, streamPng } from "./png.js";
export { PNG_LIMIT, type PngColour, type PngHeader } from "./png-format.js";
export { compressRows, type PngPiece } from "./png-piece.js";
export {
  type EmitSeparationsOptions,
  type EmittedSeparations,
  emitSeparations,
  planSeparations,
  type SeparationOptions,
  type UnderBaseOptions,
  writeSeparations,
} from "./separations.js";
export { slugOf, slugsOf } from "./slug.js";
export { AS_DRAWN, planTile, type TilePlan, type TilePlanOptions } from "./tile-plan.js";
export {
  type InkPieces,
  makeInkPieces,
  streamInkPng,
  streamTilePng,
  type TilePngOptions,
} from "./tile-png.js";
