import type { PixelImage, RasteriseSize } from "../image/index.js";
import { type Drawing, element, keepInFrame, readDrawing, serialise, writeNumber } from "../svg/index.js";
import { type Resolution, solvePixels } from "../units/index.js";
import { rasteriseSizing } from "./checks.js";
import type { Engine } from "./engine.js";
import { renderNative } from "./native.js";
import { wasmEngine } from "./wasm.js";

/** In which size a drawing is rasterised: whole pixels, or its own size in mm at a resolution. */
export type RasteriseSizing = (RasteriseSize | { readonly dpi: number | Resolution }) & {
  /** Keeps filters, which can take very long. Default false: they are left out. */
  readonly filters?: boolean;
};

/** Rasterises any SVG text; fulfils the contract `Rasterise`. */
export type RasteriseDrawing = (svg: string | Uint8Array, sizing: RasteriseSizing) => Promise<PixelImage>;

/** More digits than any renderer's 32-bit floats hold. */
const DIGITS = 6;

/** The drawing as an SVG of exactly so many pixels, each axis stretched by itself. */
function writeSized(drawing: Drawing, size: RasteriseSize): string {
  const { viewBox } = drawing;
  const { defs, body } = keepInFrame(drawing, viewBox);
  const box = [viewBox.x, viewBox.y, viewBox.width, viewBox.height].map((value) =>
    writeNumber(value, DIGITS),
  );
  return serialise(
    element(
      "svg",
      {
        xmlns: "http://www.w3.org/2000/svg",
        width: String(size.width),
        height: String(size.height),
        viewBox: box.join(" "),
        preserveAspectRatio: "none",
      },
      [...(defs.length > 0 ? [element("defs", {}, defs)] : []), ...body],
    ),
  );
}

function rasteriseWith(engine: Engine): RasteriseDrawing {
  return async (svg, sizing) => {
    rasteriseSizing(sizing, "sizing");
    const drawing = readDrawing(svg, { filters: sizing.filters ?? false });
    if ("width" in sizing) return engine(writeSized(drawing, sizing), sizing);
    const { width, height, x, y } = solvePixels({
      width: drawing.width,
      height: drawing.height,
      dpi: sizing.dpi,
    });
    const image = await engine(writeSized(drawing, { width, height }), { width, height });
    return { ...image, dpi: { x: x.dpi, y: y.dpi } };
  };
}

/**
 * Rasterises a drawing with the native engine: reads it strictly first, so the renderer only sees what repetend wrote.
 *
 * @param svg SVG text, or its bytes.
 * @param sizing whole pixels (each axis is stretched by itself), or a resolution; then the nearest whole pixels are
 * taken, and `dpi` of the picture says at which resolution it is true to size.
 * @returns RGBA, not premultiplied, of exactly that size.
 * @throws `RepetendError` what `readDrawing` refuses; E_SIZE, E_NUMBER for the sizing; E_TOO_LARGE above 65,536
 * pixels a side or 2^28 in all; E_RENDER when the renderer fails.
 *
 * @example
 * ```ts
 * import { rasterise } from "repetend/raster";
 * const svg = '<svg xmlns="http://www.w3.org/2000/svg" width="1in" height="1in" viewBox="0 0 1 1">' +
 *   '<rect width="1" height="1" fill="#ff0000" fill-opacity="0.5"/></svg>';
 * const image = await rasterise(svg, { dpi: 2 });
 * image.width; // 2
 * [...image.data.subarray(0, 4)]; // [255, 0, 0, 128]
 * ```
 */
export function rasterise(svg: string | Uint8Array, sizing: RasteriseSizing): Promise<PixelImage> {
  return rasteriseWith(renderNative)(svg, sizing);
}

/**
 * The same as {@link rasterise} on the WebAssembly engine, for browsers, equal to it pixel for pixel.
 *
 * @param wasmModule the bytes of `index_bg.wasm` from the optional peer `@resvg/resvg-wasm`.
 * @throws `RepetendError` E_RENDER when the peer is missing or the bytes are no such module.
 *
 * @example
 * ```ts
 * import { wasmRasteriser } from "repetend/raster";
 * import { readFile } from "node:fs/promises";
 * const bytes = await readFile("node_modules/@resvg/resvg-wasm/index_bg.wasm");
 * const rasterise = await wasmRasteriser(bytes);
 * const svg = '<svg xmlns="http://www.w3.org/2000/svg" width="1mm" height="1mm" viewBox="0 0 1 1"/>';
 * (await rasterise(svg, { width: 3, height: 2 })).height; // 2
 * ```
 */
export async function wasmRasteriser(wasmModule: Uint8Array): Promise<RasteriseDrawing> {
  return rasteriseWith(await wasmEngine(wasmModule));
}
