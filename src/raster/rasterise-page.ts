import { aText } from "../checks.js";
import { RepetendError } from "../errors.js";
import type { PixelImage } from "../image/index.js";
import { type Resolution, solvePixels } from "../units/index.js";
import { pageOptions } from "./checks.js";
import type { Engine } from "./engine.js";
import { renderNative } from "./native.js";

/** How {@link rasterisePage} makes a picture of a page. */
export interface RasterisePageOptions {
  readonly dpi: number | Resolution;
  /** Default: the native engine. */
  readonly engine?: Engine;
}

/** How every page begins. */
const ROOT =
  /^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg" width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 \1 \2">/;

/** What people wrote stands in titles only; everything else is ours. */
const TITLES = /<title>[^<]*<\/title>/g;

/** A reference that leaves the page. */
const LEAVING = /href\s*=(?!"(?:#|data:image\/))/;

function refuse(problem: string): never {
  throw new RepetendError("E_FORMAT", problem, {
    where: "page",
    accepted: "a page as colourwayBoard(), lineSheet() or specSheet() gave it; rasterise() takes any drawing",
  });
}

/**
 * Rasterises a page for people (a colourway board, a line sheet, a spec sheet) true to size, however much is on it.
 * `rasterise` reads every drawing as a stranger's, within limits that a rich page passes; what is on a page was read so
 * when it was made, and goes to the renderer as it is. Hand over nothing but pages.
 *
 * @param page as `colourwayBoard`, `lineSheet` or `specSheet` gave it.
 * @param options the nearest whole pixels are taken; `dpi` of the picture says at which resolution it is true to size.
 * @returns RGBA, not premultiplied.
 * @throws `RepetendError` E_FORMAT for text that is no page; E_NUMBER for the resolution; E_TOO_LARGE above 65,536 pixels
 * a side or 2^28 in all; E_RENDER when the renderer fails; E_ARGUMENT for values of a wrong kind.
 *
 * @example
 * ```ts
 * import { straight } from "repetend";
 * import { specSheet } from "repetend/board";
 * import { rasterisePage } from "repetend/raster";
 * const print = straight({ name: "Plain", width: "16cm", height: "16cm", ground: "#f2ead8", motifs: [] });
 * const [page = ""] = specSheet({ print });
 * const image = await rasterisePage(page, { dpi: 25.4 });
 * image.width; // 210
 * ```
 */
export async function rasterisePage(page: string, options: RasterisePageOptions): Promise<PixelImage> {
  aText(page, "page");
  pageOptions(options, "options");
  const [root = "", width = "", height = ""] = ROOT.exec(page) ?? [];
  if (root === "") refuse("this is no page");
  if (LEAVING.test(page.replace(TITLES, ""))) refuse("a page refers to nothing outside of itself");
  const solved = solvePixels({ width: Number(width), height: Number(height), dpi: options.dpi });
  const size = { width: solved.width, height: solved.height };
  const whole = root
    .replace(`width="${width}mm"`, `width="${size.width}"`)
    .replace(`height="${height}mm"`, `height="${size.height}" preserveAspectRatio="none"`);
  const image = await (options.engine ?? renderNative)(`${whole}${page.slice(root.length)}`, size);
  return { ...image, dpi: { x: solved.x.dpi, y: solved.y.dpi } };
}
