import { type Box, growBox } from "../geometry/box.js";

/** What the renderer puts around a group. */
const GROUP_MARGIN = 8;

/**
 * How much more than `least` is rendered around a window, so that no group leaves the canvas by more than its size: with
 * a pixel more on every side it leaves by one less, and the canvas is two larger. `check` is asked before each canvas is
 * looked at, and may refuse it.
 */
export function moreOverscan(
  window: Box,
  least: number,
  overhangIn: (canvas: Box) => { readonly x: number; readonly y: number },
  check: (canvas: Box) => void = () => {},
): number {
  // A larger canvas shows more, which may leave it farther; that ends where all of a motif shows.
  for (let more = 0; ; ) {
    const canvas = growBox(window, least + more);
    check(canvas);
    const { x, y } = overhangIn(canvas);
    const needed = Math.max(x - canvas.width, y - canvas.height) + GROUP_MARGIN;
    if (needed <= 0) return more;
    more += Math.ceil(needed / 3);
  }
}
