import { compose, scaling, translation } from "../geometry/affine.js";
import { type Box, growBox } from "../geometry/box.js";
import type { PixelImage, RasteriseSize } from "../image/index.js";
import {
  type Drawing,
  element,
  keepSeen,
  nestedOverhang,
  readDrawing,
  serialise,
  writeNumber,
} from "../svg/index.js";
import { type Resolution, solvePixels } from "../units/index.js";
import { rasteriseSizing } from "./checks.js";
import { checkRenderSize, type Engine, type RenderSize } from "./engine.js";
import { renderNative } from "./native.js";
import { moreOverscan } from "./overscan.js";
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

/** Pixels that are rendered at most to show groups that reach far outside, as a square of 2048. */
const MOST_AROUND = 2 ** 22;

/** A picture that is larger than that may grow by as much again on each axis. */
const MOST_GROWTH = 4;

/** How the drawing is rendered: its SVG, each axis stretched by itself, and how much of it is cut off again. */
function writeSized(drawing: Drawing, asked: RasteriseSize): { svg: string; size: RenderSize } {
  const { viewBox } = drawing;
  const page: Box = { x: 0, y: 0, width: asked.width, height: asked.height };
  const [across, down] = [viewBox.width / page.width, viewBox.height / page.height];
  const map = compose(scaling(1 / across, 1 / down), translation(-viewBox.x, -viewBox.y));
  let seen: Pick<Drawing, "body" | "defs"> = drawing; // of the last canvas that was looked at, which is the one
  const overscan = moreOverscan(
    page,
    0,
    (canvas) => {
      seen = keepSeen(drawing, { map, canvas });
      return nestedOverhang(seen.body, seen.defs, { map, canvas });
    },
    Math.max(MOST_AROUND, MOST_GROWTH * page.width * page.height),
  );
  const canvas = growBox(page, overscan);
  const { defs, body } = seen;
  const box = [
    viewBox.x - overscan * across,
    viewBox.y - overscan * down,
    canvas.width * across,
    canvas.height * down,
  ].map((value) => writeNumber(value, DIGITS));
  const svg = element(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      width: String(canvas.width),
      height: String(canvas.height),
      viewBox: box.join(" "),
      preserveAspectRatio: "none",
    },
    [...(defs.length > 0 ? [element("defs", {}, defs)] : []), ...body],
  );
  return { svg: serialise(svg), size: { width: canvas.width, height: canvas.height, overscan } };
}

function rasteriseWith(engine: Engine): RasteriseDrawing {
  return async (svg, sizing) => {
    rasteriseSizing(sizing, "sizing");
    const drawing = readDrawing(svg, { filters: sizing.filters ?? false });
    const render = (asked: RasteriseSize): Promise<PixelImage> => {
      checkRenderSize(asked);
      const { svg, size } = writeSized(drawing, asked);
      return engine(svg, size);
    };
    if ("width" in sizing) return render(sizing);
    const { width, height, x, y } = solvePixels({
      width: drawing.width,
      height: drawing.height,
      dpi: sizing.dpi,
    });
    const image = await render({ width, height });
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
 * pixels a side or 2^28 in all; E_RENDER when the renderer fails, or would have to render far more than the page to show
 * what groups inside each other hold.
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
