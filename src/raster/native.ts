import type { PixelImage } from "../image/index.js";
import { checkRenderSize, ENGINE_OPTIONS, type RenderSize, renderError, takeOutput } from "./engine.js";

/**
 * The native engine: renders on a thread of its own, so that the event loop stays free (a tight loop of renders would
 * also keep every picture until it ends).
 *
 * @throws `RepetendError` E_SIZE, E_TOO_LARGE, E_RENDER.
 */
export async function renderNative(svg: string, size: RenderSize): Promise<PixelImage> {
  checkRenderSize(size);
  try {
    const { renderAsync } = await import("@resvg/resvg-js");
    const rendered = await renderAsync(svg, { ...ENGINE_OPTIONS, logLevel: "off" });
    return takeOutput({ width: rendered.width, height: rendered.height, pixels: rendered.pixels }, size);
  } catch (error) {
    throw renderError(error);
  }
}
