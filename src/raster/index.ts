export { cropImage, dropAlpha } from "./crop.js";
export type { Engine } from "./engine.js";
export { BARE, toIndices } from "./indices.js";
export { renderNative } from "./native.js";
export { type RenderPrintOptions, rasterisePrint, renderBands, rowsPerBand } from "./print-bands.js";
export { readImage } from "./read-image.js";
export { wasmEngine } from "./wasm.js";
