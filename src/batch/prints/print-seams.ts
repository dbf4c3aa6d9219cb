import type { PixelImage } from "../../image/index.js";
import { type Engine, rasterisePrint } from "../../raster/index.js";
import { aPrint } from "../../repeat/checks.js";
import { type Print, pixelGrid } from "../../repeat/index.js";
import { checkSeams, type SeamReport } from "../../seam/index.js";
import { printSeamsOptions } from "../checks.js";
import { holdAgainstPrint } from "./hold-against-print.js";

/** Seams are checked on a picture of about this many pixels. */
const SEAM_PIXELS = 2 ** 21;

/** A tile of fewer pixels a side shows too little of its seams: it is then looked at in a higher resolution. */
const SEAM_SIDE = 64;

/** How a print's seams are checked. */
export interface PrintSeamsOptions {
  /** Dots per inch; large tiles are looked at in a lower resolution, tiny ones in a higher. */
  readonly dpi: number;
  /** Default: the native engine. */
  readonly engine?: Engine;
  readonly signal?: AbortSignal;
}

/** A print's tile as it was looked at, with what was found. */
export interface CheckedPrint {
  readonly image: PixelImage;
  readonly report: SeamReport;
}

/** The resolution at which a tile is looked at. */
function seamDpi(print: Print, asked: number): number {
  const { tile, mm } = pixelGrid(print, { dpi: asked });
  const share = Math.sqrt(SEAM_PIXELS / (tile.width * tile.height));
  if (share < 1) return asked * share;
  const least = (SEAM_SIDE * 25.4) / Math.min(mm.width, mm.height);
  const most = 25.4 * Math.sqrt(SEAM_PIXELS / (mm.width * mm.height));
  return Math.max(asked, Math.min(least, most));
}

/**
 * Checks the seams of a print's tile; what looks open is held against the field, drawn in one go across
 * the seam. Hands over the picture that was looked at, as `drawSeams` and `pictureSeams` want it.
 *
 * @throws `RepetendError` E_NUMBER for the resolution, E_RENDER when the renderer fails.
 */
export async function checkPrintPicture(print: Print, options: PrintSeamsOptions): Promise<CheckedPrint> {
  aPrint(print, "print");
  printSeamsOptions(options, "options");
  const dpi = seamDpi(print, options.dpi);
  const image = await rasterisePrint(print, { ...options, dpi });
  const report = checkSeams(image, { layout: print.kind === "border" ? "border" : "straight" });
  return { image, report: await holdAgainstPrint(report, image, print, pixelGrid(print, { dpi }), options) };
}

/**
 * Checks the seams of a print's tile, rendered on a pixel grid of its own at a resolution that is quick to look at.
 *
 * @throws `RepetendError` E_NUMBER for the resolution, E_RENDER when the renderer fails.
 */
export async function checkPrintSeams(print: Print, options: PrintSeamsOptions): Promise<SeamReport> {
  return (await checkPrintPicture(print, options)).report;
}
