import { RepetendError } from "../errors.js";
import { type Box, growBox } from "../geometry/box.js";

/** What the renderer puts around a group. */
const GROUP_MARGIN = 8;

/** Refuses to render very much more than what is asked for. */
function checkCanvas({ width, height }: Box, window: Box, mostPixels: number): void {
  if (width * height <= mostPixels) return;
  throw new RepetendError(
    "E_RENDER",
    "groups, masks or patterns inside groups reach too far out of the drawing",
    {
      value: `${width} x ${height} px to render for ${window.width} x ${window.height} px`,
      accepted:
        "groups with opacity, clips or masks, and shapes in masks and patterns, that end near the drawing's edge",
    },
  );
}

/**
 * How much more than `least` is rendered around a window, so that no group leaves the canvas by more than its size: with
 * a pixel more on every side it leaves by one less, and the canvas is two larger.
 *
 * @throws `RepetendError` E_RENDER where that would be more than `mostPixels`, before such a canvas is looked at.
 */
export function moreOverscan(
  window: Box,
  least: number,
  overhangIn: (canvas: Box) => { readonly x: number; readonly y: number },
  mostPixels: number,
): number {
  // A larger canvas shows more, which may leave it farther; that ends where all of a motif shows.
  for (let more = 0; ; ) {
    const canvas = growBox(window, least + more);
    if (more > 0) checkCanvas(canvas, window, mostPixels);
    const { x, y } = overhangIn(canvas);
    const needed = Math.max(x - canvas.width, y - canvas.height) + GROUP_MARGIN;
    if (needed <= 0) return more;
    more += Math.ceil(needed / 3);
  }
}
