export {
  type BandPatch,
  type BandPlan,
  type BandTask,
  planBands,
  type TileBand,
  WIDEST_PIECE,
} from "./band-plan.js";
export { cropImage, dropAlpha, pasteImage } from "./crop.js";
export type { Engine, RenderSize } from "./engine.js";
export { toIndices } from "./indices.js";
export { hasTranslucency, whyNotLinear } from "./linear.js";
export { renderNative } from "./native.js";
export { openNativePipeline } from "./native-pipeline.js";
export { countPasses } from "./plane-passes.js";
export {
  type InkPlanesOptions,
  inkPlanes,
  type PlaneSource,
  planeInks,
  planeSource,
  type StreamPlanesOptions,
  streamPlanes,
} from "./planes.js";
export {
  joinParts,
  type RenderPrintOptions,
  rasterisePrint,
  renderBands,
  renderParts,
  repeatColumns,
} from "./print-bands.js";
export { type RasteriseDrawing, type RasteriseSizing, rasterise, wasmRasteriser } from "./rasterise.js";
export { type RasterisePageOptions, rasterisePage } from "./rasterise-page.js";
export { readImage } from "./read-image.js";
export { wasmEngine } from "./wasm.js";
