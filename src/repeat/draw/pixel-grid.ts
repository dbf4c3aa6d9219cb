import { anObject, maybe, partsOf } from "../../checks.js";
import { RepetendError } from "../../errors.js";
import { latticePoint } from "../../geometry/lattice.js";
import {
  type PixelAxis,
  type PixelSolution,
  type Resolution,
  readPercent,
  solvePixels,
} from "../../units/index.js";
import { cellOf, type PrintSize } from "../build/scale.js";
import { aPrint } from "../checks.js";
import type { Print } from "../types.js";
import { latticeOf } from "./lattice-of.js";
import { rectangleOf } from "./layers.js";

/** By how much the cloth shrinks in finishing, each "-20%" to "50%". The artwork is made larger by 1 / (1 - s). */
export interface Shrinkage {
  /** Along the print's grain. Default "0%". */
  readonly warp?: string;
  /** Across it. Default "0%". */
  readonly weft?: string;
}

/** How a print becomes pixels. */
export interface PixelGridOptions {
  /** Dots per inch, above 0. */
  readonly dpi: number | Resolution;
  /** Enlarges the whole artwork, above 0. Default 1. */
  readonly scale?: number;
  readonly shrinkage?: Shrinkage;
}

/** A print's sizes in whole pixels, and what the whole pixels cost. */
export interface PixelGrid {
  /** The lattice cell (a border's repeat and cloth width) in pixels; for a satin, the whole repeat. */
  readonly cell: PrintSize;
  /** The rectangle that repeats by itself, in whole pixels. */
  readonly tile: PrintSize;
  /** By how many whole pixels the next cell along x is lowered (`y`), or the next cell down is moved along (`x`). */
  readonly offset: { readonly x: number; readonly y: number };
  /** The tile's size on the cloth as printed, in mm: with scale and shrinkage. */
  readonly mm: PrintSize;
  /** The resolution at which the pixels are true to size; write this into the file. */
  readonly dpi: Resolution;
  /** The solver's full answer for one cell. */
  readonly x: PixelAxis;
  readonly y: PixelAxis;
  readonly exact: PixelSolution["exact"];
  readonly exactWhole: PixelSolution["exactWhole"];
}

const SHRINKAGE_LIMITS = { atLeast: -0.2, atMost: 0.5 };

/** The enlargement of each axis of the artwork: scale, and the shrinkage of the thread that runs along it. */
export function enlargementOf(
  print: Print,
  options: Omit<PixelGridOptions, "dpi">,
): { x: number; y: number } {
  aPrint(print, "print");
  partsOf<PixelGridOptions>({ shrinkage: maybe(anObject) })(options, "options");
  const scale = options.scale ?? 1;
  if (!(scale > 0 && Number.isFinite(scale))) {
    throw new RepetendError("E_NUMBER", "a scale is above 0", {
      where: "scale",
      value: String(scale),
      accepted: "a finite number above 0",
    });
  }
  const { warp = "0%", weft = "0%" } = options.shrinkage ?? {};
  const warpScale = scale / (1 - readPercent(warp, { ...SHRINKAGE_LIMITS, where: "shrinkage.warp" }));
  const weftScale = scale / (1 - readPercent(weft, { ...SHRINKAGE_LIMITS, where: "shrinkage.weft" }));
  return print.grain === "x" ? { x: warpScale, y: weftScale } : { x: weftScale, y: warpScale };
}

/**
 * Solves the pixels of a print: the cell in whole pixels, a stepped cell in a multiple of q along its step, so that
 * every copy in the tile and at its edges lies on whole pixels. Deviations are reported, never hidden.
 *
 * @throws {@link RepetendError} `E_NUMBER` for dpi, scale or shrinkage out of range, `E_UNIT` for a shrinkage without %.
 * @example
 * ```ts
 * import { border, pixelGrid } from "repetend";
 * const print = border({ name: "Hem", repeat: "32cm", width: "140cm", bands: [] });
 * const grid = pixelGrid(print, { dpi: 300, shrinkage: { warp: "4%" } });
 * grid.tile; // { width: 3937, height: 16535 }
 * ```
 */
export function pixelGrid(print: Print, options: PixelGridOptions): PixelGrid {
  const enlarged = enlargementOf(print, options);
  const cell = cellOf(print);
  const lattice = print.kind === "all-over" ? latticeOf(print) : undefined;
  const isSatin = print.kind === "all-over" && print.layout.kind === "satin";
  const solution = solvePixels({
    width: cell.width * enlarged.x,
    height: cell.height * enlarged.y,
    dpi: options.dpi,
    step: lattice && { along: lattice.along, ...lattice.step },
  });
  const pixels = { width: solution.width, height: solution.height };
  const rectangle = rectangleOf(print);
  return {
    cell: pixels,
    // A satin's cell is its whole repeat already; its columns need not be whole pixels each.
    tile: isSatin ? pixels : solution.tile,
    offset: lattice && !isSatin ? offsetOf(lattice, pixels) : { x: 0, y: 0 },
    mm: { width: rectangle.width * enlarged.x, height: rectangle.height * enlarged.y },
    dpi: { x: solution.x.dpi, y: solution.y.dpi },
    x: solution.x,
    y: solution.y,
    exact: solution.exact,
    exactWhole: solution.exactWhole,
  };
}

function offsetOf(lattice: ReturnType<typeof latticeOf>, pixels: PrintSize): { x: number; y: number } {
  const inPixels = { ...lattice, ...pixels };
  return lattice.along === "column"
    ? { x: 0, y: latticePoint(inPixels, 1, 0).y }
    : { x: latticePoint(inPixels, 0, 1).x, y: 0 };
}
