export {
  codeOf,
  type FileSink,
  makeFolder,
  temporaryPrefix,
  type WrittenFile,
  writeAtomically,
} from "./atomic.js";
export { type BandMaker, localMaker } from "./band-maker.js";
export { BandPool, type BandPoolOptions } from "./band-pool.js";
export type { BandWork, MadeBand, MadeBands } from "./band-work.js";
export { CmykConverter } from "./convert-colour.js";
export { toLabPixels } from "./convert-colour-lab.js";
export {
  type EmitTileOptions,
  type EmittedTile,
  emitTile,
  estimateTile,
  type TileProgress,
  writeTile,
} from "./emit-tile.js";
export type { EncodedRows, Encoding, PngEncoding, TiffEncoding } from "./encoding.js";
export {
  type GarmentPlan,
  type GarmentPlanOptions,
  planGarment,
  type WriteGarmentOptions,
  writeGarment,
} from "./garment-files.js";
export { iccSpace } from "./icc.js";
export type { Deviation, ManifestFile, PlannedFile } from "./manifest.js";
export { type EncodePngOptions, encodePng, joinPng, streamPng } from "./png.js";
export { PNG_LIMIT, type PngColour, type PngHeader } from "./png-format.js";
export { compressRows, type PngPiece } from "./png-piece.js";
export { planSeparations, type SeparationOptions, type UnderBaseOptions } from "./separation-films.js";
export {
  type EmitSeparationsOptions,
  type EmittedSeparations,
  emitSeparations,
  writeSeparations,
} from "./separations.js";
export { slugOf, slugsOf } from "./slug.js";
export { type EncodeTiffOptions, encodeTiff, streamTiff } from "./tiff.js";
export {
  isBigTiff,
  TIFF_LIMIT,
  type TiffColour,
  type TiffCompression,
  type TiffHeader,
  type TiffTexts,
  usualStripRows,
} from "./tiff-format.js";
export { TiffSink } from "./tiff-sink.js";
export { compressStrips } from "./tiff-strips.js";
export {
  AS_DRAWN,
  type PlannedTileFile,
  planTile,
  type TilePlan,
  type TilePlanOptions,
} from "./tile-plan.js";
export type { TileEstimate } from "./write-shape.js";
