export type { PixelImage } from "./pixels.js";
export type { Rasterise, RasteriseSize } from "./rasterise.js";
