import { writeFigure } from "./figures.js";

/** A scale as one can say it, not larger than the one given: 1 to a number of one decimal, at most true to size. */
export function sayableScale(scale: number): number {
  if (scale >= 1) return 1;
  return 10 / Math.ceil(10 / scale - 1e-9);
}

/** A scale in words. */
export function writeScale(scale: number): string {
  return scale >= 1 ? "true to size" : `1 : ${writeFigure(1 / scale, 1)}`;
}
