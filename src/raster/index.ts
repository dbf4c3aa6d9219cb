export { cropImage, dropAlpha, pasteImage } from "./crop.js";
export type { Engine } from "./engine.js";
export { BARE, toIndices } from "./indices.js";
export { renderNative } from "./native.js";
export { type RenderPrintOptions, rasterisePrint, renderBands, rowsPerBand } from "./print-bands.js";
export { type RasteriseDrawing, type RasteriseSizing, rasterise, wasmRasteriser } from "./rasterise.js";
export { readImage } from "./read-image.js";
export { wasmEngine } from "./wasm.js";
