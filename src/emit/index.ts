export type { EncodedRows, Encoding, PngEncoding, TiffEncoding } from "./bands/encoding.js";
export { type BandMaker, localMaker } from "./bands/maker.js";
export { BandPool, type BandPoolOptions } from "./bands/pool.js";
export type { BandWork, MadeBand, MadeBands } from "./bands/work.js";
export {
  codeOf,
  type FileSink,
  makeFolder,
  temporaryPrefix,
  type WrittenFile,
  writeAtomically,
} from "./files/atomic.js";
export type { Deviation, ManifestFile, PlannedFile } from "./files/manifest.js";
export { slugOf, slugsOf } from "./files/slug.js";
export {
  type GarmentPlan,
  type GarmentPlanOptions,
  planGarment,
  type WriteGarmentOptions,
  writeGarment,
} from "./garment-files.js";
export { type EncodePngOptions, encodePng, joinPng, streamPng } from "./png/encode.js";
export { PNG_LIMIT, type PngColour, type PngHeader } from "./png/format.js";
export { compressRows, type PngPiece } from "./png/piece.js";
export { CmykConverter } from "./profile/cmyk.js";
export { iccSpace } from "./profile/icc.js";
export { toLabPixels } from "./profile/lab.js";
export {
  type EmitSeparationsOptions,
  type EmittedSeparations,
  emitSeparations,
  writeSeparations,
} from "./separations/emit-separations.js";
export { planSeparations, type SeparationOptions, type UnderBaseOptions } from "./separations/films.js";
export { type EncodeTiffOptions, encodeTiff, streamTiff } from "./tiff/encode.js";
export {
  isBigTiff,
  TIFF_LIMIT,
  type TiffColour,
  type TiffCompression,
  type TiffHeader,
  type TiffTexts,
  usualStripRows,
} from "./tiff/format.js";
export { TiffSink } from "./tiff/sink.js";
export { compressStrips } from "./tiff/strips.js";
export {
  type EmitTileOptions,
  type EmittedTile,
  emitTile,
  estimateTile,
  type TileProgress,
  writeTile,
} from "./tile/emit-tile.js";
export {
  AS_DRAWN,
  type PlannedTileFile,
  planTile,
  type TilePlan,
  type TilePlanOptions,
} from "./tile/plan.js";
export type { TileEstimate } from "./tile/write-shape.js";
