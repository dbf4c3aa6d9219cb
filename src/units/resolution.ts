import { RepetendError } from "../errors.js";
import { MM_PER_UNIT } from "./length.js";

/** Pixels to an inch along each axis of the artwork. */
export interface Resolution {
  readonly x: number;
  readonly y: number;
}

/** More than this is no resolution of a machine that prints on cloth, but a slip of the pen. */
export const HIGHEST_DPI: number = 100_000;

/**
 * Reads a resolution in dots per inch: one number for both axes, or one an axis.
 *
 * @param where - Where it was given, for the error.
 * @throws {@link RepetendError} `E_NUMBER` when it is not above 0 and at most 100,000.
 * @example
 * ```ts
 * import { readResolution } from "repetend";
 * readResolution(300); // { x: 300, y: 300 }
 * ```
 */
export function readResolution(dpi: number | Resolution, where = "dpi"): Resolution {
  // Text or nothing has neither axis, and its value is refused with them.
  const { x, y } = typeof dpi === "object" && dpi !== null ? dpi : { x: dpi, y: dpi };
  for (const value of [x, y]) {
    if (typeof value === "number" && value > 0 && value <= HIGHEST_DPI) continue;
    throw new RepetendError("E_NUMBER", "a resolution is out of range", {
      where,
      value: String(value),
      accepted: `dots per inch above 0, at most ${HIGHEST_DPI}`,
    });
  }
  return { x, y };
}

/**
 * The whole number of pixels per metre next to a resolution, as the chunk pHYs of a PNG file stores it.
 *
 * @param dpi - Dots per inch, above 0 and at most 100,000.
 * @throws {@link RepetendError} `E_NUMBER` when it is out of range.
 * @example
 * ```ts
 * import { pixelsPerMetre } from "repetend";
 * pixelsPerMetre(300); // 11811
 * ```
 */
export function pixelsPerMetre(dpi: number): number {
  return Math.round((readResolution(dpi).x * MM_PER_UNIT.m) / MM_PER_UNIT.in);
}
