import { aText } from "../checks.js";
import { RepetendError } from "../errors.js";
import type { PixelImage } from "../image/index.js";
import { aRenderSize } from "./checks.js";
import {
  checkRenderSize,
  type EngineOutput,
  engineOptions,
  type RenderSize,
  renderError,
  takeOutput,
} from "./engine.js";

/** The native renderer: loaded when it is first wanted, since a browser has none and a bundle for one holds nothing. */
export async function loadNative(): Promise<typeof import("@resvg/resvg-js")> {
  const renderer = await import("@resvg/resvg-js");
  if (typeof renderer.renderAsync === "function") return renderer;
  throw new RepetendError("E_RENDER", "the native renderer runs in Node only", {
    accepted: "wasmRasteriser() in a browser",
  });
}

/**
 * Draws on a thread of its own. Of what comes back `pixels` are copied each time that they are read.
 *
 * @throws `RepetendError` E_SIZE, E_TOO_LARGE, E_RENDER.
 */
export async function drawNative(svg: string, size: RenderSize): Promise<EngineOutput> {
  aText(svg, "svg");
  aRenderSize(size, "size");
  checkRenderSize(size);
  try {
    const { renderAsync } = await loadNative();
    return await renderAsync(svg, { ...engineOptions(size), logLevel: "off" });
  } catch (error) {
    throw renderError(error);
  }
}

/**
 * The native engine: renders on a thread of its own, so that the event loop stays free (a tight loop of renders would
 * also keep every picture until it ends).
 *
 * @throws `RepetendError` E_SIZE, E_TOO_LARGE, E_RENDER; E_ARGUMENT for values of a wrong kind.
 */
export async function renderNative(svg: string, size: RenderSize): Promise<PixelImage> {
  return takeOutput(await drawNative(svg, size), size);
}
