import { compose, scaling } from "../../geometry/affine.js";
import { aPrint, aSize } from "../checks.js";
import type { Placement, Print } from "../types.js";
import { placed } from "./place.js";

/** New sizes of a print in another unit: its cell (or a border's repeat and width), exactly. */
export interface PrintSize {
  readonly width: number;
  readonly height: number;
}

/** The size of one cell, or of a border's repeat and cloth width. */
export function cellOf(print: Print): PrintSize {
  aPrint(print, "print");
  return print.kind === "border"
    ? { width: print.repeat, height: print.width }
    : { width: print.width, height: print.height };
}

/**
 * The print stretched to a new cell size, for example to whole pixels. The cell gets exactly the numbers given, so
 * that its copies lie on whole pixels; everything in it is scaled along.
 */
export function resizePrint(print: Print, size: PrintSize): Print {
  aPrint(print, "print");
  aSize(size, "size");
  const cell = cellOf(print);
  const [x, y] = [size.width / cell.width, size.height / cell.height];
  const map = scaling(x, y);
  const all = (motifs: readonly Placement[]) => motifs.map((one) => placed(one.motif, compose(map, one.map)));
  if (print.kind === "all-over") {
    return { ...print, width: size.width, height: size.height, motifs: all(print.motifs) };
  }
  const bands = print.bands.map((band) => ({
    ...band,
    from: band.from * y,
    to: band.to * y,
    period: size.width / band.count,
    motifs: all(band.motifs),
  }));
  return { ...print, repeat: size.width, width: size.height, bands };
}
