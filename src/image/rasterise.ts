import type { PixelImage } from "./pixels.js";

/** The size in which a drawing is rasterised, in whole pixels. */
export interface RasteriseSize {
  readonly width: number;
  readonly height: number;
}

/**
 * The contract of a renderer: SVG text in, exactly `width` x `height` RGBA pixels out, or an error `E_RENDER`.
 * The native and the WebAssembly engine of `repetend/raster` both fulfil it; so may an engine of your own.
 */
export type Rasterise = (svg: string, size: RasteriseSize) => PixelImage | Promise<PixelImage>;
