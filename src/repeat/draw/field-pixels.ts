import { aNumber, anObject, maybe, oneOf, partsOf } from "../../checks.js";
import type { Box } from "../../geometry/box.js";
import { resizePrint } from "../build/scale.js";
import { aBox, aPrint } from "../checks.js";
import type { Print } from "../types.js";
import { describeRepeat } from "./describe.js";
import { writeDocument } from "./document.js";
import { drawLayers } from "./draw.js";
import { layersInWindow } from "./layers.js";
import type { PixelGrid } from "./pixel-grid.js";

/** How a window is written for a renderer. */
export interface FieldPixelsOptions {
  /** "hard": no anti-aliasing, every pixel is one ink. Default "soft". */
  readonly edges?: "soft" | "hard";
  /**
   * Rendered around the window and cut off again, in whole pixels, 0 or more. Renderers clip paths at the canvas edge,
   * which changes anti-aliasing there a little. Default 0.
   */
  readonly overscan?: number;
}

/** A ten-thousandth of a pixel: below the 1/64 to which renderers round a path's points. */
const PIXEL_DIGITS = 4;

/**
 * A print on its pixel grid, ready to be cut into windows: made once, used for every band.
 *
 * @example
 * ```ts
 * import { pixelGrid, pixelPrint, straight, writePixels } from "repetend";
 * const print = straight({ name: "Plain", width: "10cm", height: "10cm", ground: "#f2ead8", motifs: [] });
 * const grid = pixelGrid(print, { dpi: 254 });
 * writePixels(pixelPrint(print, grid), { x: 0, y: 0, ...grid.tile }).includes('width="1000"'); // true
 * ```
 */
export function pixelPrint(print: Print, grid: PixelGrid): Print {
  anObject(grid, "grid");
  return resizePrint(print, grid.cell);
}

const pixelOptions = partsOf<FieldPixelsOptions>({
  edges: maybe(oneOf("soft", "hard")),
  overscan: maybe(aNumber),
});

/**
 * A window of a print in pixels as SVG text with one user unit a pixel, for a renderer. `print` is the result of
 * `pixelPrint`; `window` is in whole pixels of the endless field. With `overscan` the drawing is larger by that on all sides.
 * Only what reaches into the window is written.
 */
export function writePixels(print: Print, window: Box, options: FieldPixelsOptions = {}): string {
  aPrint(print, "print");
  aBox(window, "window");
  pixelOptions(options, "options");
  const overscan = options.overscan ?? 0;
  const canvas = {
    x: window.x - overscan,
    y: window.y - overscan,
    width: window.width + 2 * overscan,
    height: window.height + 2 * overscan,
  };
  const drawn = drawLayers(layersInWindow(print, canvas, window), {
    window: canvas,
    digits: PIXEL_DIGITS,
    shown: window,
  });
  return writeDocument(drawn, {
    width: canvas.width,
    height: canvas.height,
    unit: "",
    digits: 0,
    title: print.name,
    description: describeRepeat(print),
    ...(options.edges === "hard" ? { attributes: { "shape-rendering": "crispEdges" } } : {}),
  });
}
