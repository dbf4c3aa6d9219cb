import { anObject, maybe, partsOf } from "../checks.js";
import { RepetendError } from "../errors.js";
import { type Length, MM_PER_UNIT, readLength } from "./length.js";
import { commonDivisor, EQUAL_WITHIN, findRatio, snapToWhole } from "./ratio.js";
import { type Resolution, readResolution } from "./resolution.js";

/** What is to become whole pixels. */
export interface PixelQuestion {
  /** Width of one cell of the repeat, above 0. */
  readonly width: Length;
  /** Height of one cell of the repeat, above 0. */
  readonly height: Length;
  /** Dots per inch. */
  readonly dpi: number | Resolution;
  /**
   * p/q of the cell's height by which each next column is lower, or of its width by which each next row is moved along.
   * Leave it out for straight repeats and borders.
   */
  readonly step?: { readonly along: "column" | "row"; readonly p: number; readonly q: number } | undefined;
}

/** A resolution at which whole pixels give the asked length exactly. */
export interface ExactAxis {
  readonly dpi: number;
  readonly pixels: number;
}

/** A resolution at which whole pixels give both asked lengths exactly. */
export interface ExactCell {
  readonly dpi: number;
  readonly width: number;
  readonly height: number;
}

/** The next such resolution on either side of the asked one; `undefined` where none lies from 72 to 2400 dpi. */
export interface Neighbours<T> {
  readonly below: T | undefined;
  readonly above: T | undefined;
}

/** One axis of the answer. */
export interface PixelAxis {
  /** The cell in whole pixels. */
  readonly pixels: number;
  /** The pixels that the asked resolution calls for: seldom a whole number. */
  readonly asked: number;
  /** Whether `pixels` is what was asked for. */
  readonly isExact: boolean;
  /** The resolution at which `pixels` have the asked length. Write this one into the file. */
  readonly dpi: number;
  /** By how much a repeat comes out too long (or, below 0, too short) when printed at the asked resolution, in µm. */
  readonly microns: number;
  /** The same over one metre of cloth, in µm. */
  readonly micronsPerMetre: number;
  /** The nearest exact resolutions of any value. */
  readonly exact: Neighbours<ExactAxis>;
  /** The nearest exact resolutions that are a whole number of dots per inch. */
  readonly exactWhole: Neighbours<ExactAxis>;
}

/** The answer of {@link solvePixels}. */
export interface PixelSolution {
  /** Whole pixels of one cell. */
  readonly width: number;
  readonly height: number;
  /** Whole pixels of the rectangle that repeats by itself: q cells side by side for a step along columns. */
  readonly tile: { readonly width: number; readonly height: number };
  /** Whether both axes are exact. */
  readonly isExact: boolean;
  readonly x: PixelAxis;
  readonly y: PixelAxis;
  /** The nearest resolutions that are exact on both axes at once; none where two different ones were asked for. */
  readonly exact: Neighbours<ExactCell>;
  readonly exactWhole: Neighbours<ExactCell>;
}

/** Exact resolutions are looked for from screen proofs to the finest that film and engravers take (common practice). */
const LOWEST_EXACT_DPI = 72;
const HIGHEST_EXACT_DPI = 2400;

const MM_PER_INCH = MM_PER_UNIT.in;
const MICRONS_PER_MM = 1000;
const MM_PER_METRE = MM_PER_UNIT.m;

/**
 * Turns a repeat's physical size into whole pixels, and never hides what that costs: the nearest admissible number of
 * pixels on each axis, the resolution at which it is true to size, how far the repeat is off when printed at the asked
 * resolution, and the nearest resolutions at which nothing is off.
 *
 * For a step of p/q the pixels along the step are a multiple of q, so that the step itself is whole pixels. "Exact" means
 * within one part in 1e12, a millionth of a micrometre over a metre.
 *
 * @throws {@link RepetendError} `E_UNIT`, `E_NUMBER`, `E_SIZE` for lengths, `E_NUMBER` for the resolution, `E_LAYOUT` for
 * the step.
 * @example
 * ```ts
 * import { solvePixels } from "repetend";
 * const border = solvePixels({ width: "12in", height: "58in", dpi: 300 });
 * border.width; // 3600
 * border.height; // 17400
 * const screen = solvePixels({ width: 64, height: 64, dpi: 300 });
 * screen.x.asked; // 755.9055118110236
 * screen.x.pixels; // 756
 * screen.x.exactWhole.below; // { dpi: 254, pixels: 640 }
 * ```
 */
export function solvePixels(question: PixelQuestion): PixelSolution {
  partsOf<PixelQuestion>({ step: maybe(anObject) })(question, "question");
  const width = readLength(question.width, { where: "width", above: 0 });
  const height = readLength(question.height, { where: "height", above: 0 });
  const dpi = readResolution(question.dpi);
  const { cells, along } = readCells(question.step);
  const multiple = { x: along === "row" ? cells : 1, y: along === "column" ? cells : 1 };
  const x = solveAxis(width, dpi.x, multiple.x);
  const y = solveAxis(height, dpi.y, multiple.y);
  return {
    width: x.pixels,
    height: y.pixels,
    tile: {
      width: x.pixels * (along === "column" ? cells : 1),
      height: y.pixels * (along === "row" ? cells : 1),
    },
    isExact: x.isExact && y.isExact,
    x,
    y,
    ...solveBoth(width, height, dpi, multiple),
  };
}

/** Into how many cells the rectangle that repeats by itself falls: the step's q in lowest terms. */
function readCells(step: PixelQuestion["step"]): { cells: number; along: "column" | "row" } {
  if (step === undefined) return { cells: 1, along: "column" };
  const { along, p, q } = step;
  if (
    !Number.isSafeInteger(p) ||
    !Number.isSafeInteger(q) ||
    q < 1 ||
    (along !== "column" && along !== "row")
  ) {
    throw new RepetendError("E_LAYOUT", "a step is a fraction of the repeat along columns or rows", {
      where: "step",
      value: `${along} ${p}/${q}`,
      accepted: "column or row, p and q whole numbers, q at least 1",
    });
  }
  return { cells: q / commonDivisor(p, q), along };
}

const pixelsOf = (length: number, dpi: number): number => Math.round((length * dpi) / MM_PER_INCH);

/** An inch is 127/5 mm: whole numbers keep 300.0375 dpi from turning into 300.03749999999997. */
const resolutionOf = (pixels: number, length: number): number => snapToWhole((pixels * 127) / (length * 5));

/** To what counts as equal over a metre, so that rounding noise does not look like a measurement. */
const roundMicrons = (microns: number): number => Math.round(microns * 1e6) / 1e6 + 0;

/** No numerator or denominator of use is larger: pixels at the finest resolution, or that resolution itself. */
function mostPixels(length: number): number {
  return Math.ceil(Math.max(1, length / MM_PER_INCH) * HIGHEST_EXACT_DPI);
}

function solveAxis(length: number, dpi: number, multiple: number): PixelAxis {
  const asked = snapToWhole((length * dpi) / MM_PER_INCH);
  const pixels = Math.max(1, Math.round(asked / multiple)) * multiple;
  const isExact = pixels === asked;
  const relative = isExact ? 0 : pixels / asked - 1;
  const perInch = findRatio(length / MM_PER_INCH, mostPixels(length));
  // Whole dpi: a multiple of the denominator makes whole pixels, a further factor makes them a multiple of q.
  const wholeStep = perInch && perInch.under * (multiple / commonDivisor(perInch.over, multiple));
  const toAxis = (near: number): ExactAxis => {
    const count = pixelsOf(length, near);
    return { dpi: resolutionOf(count, length), pixels: count };
  };
  return {
    pixels,
    asked,
    isExact,
    dpi: isExact ? dpi : resolutionOf(pixels, length),
    microns: roundMicrons(relative * length * MICRONS_PER_MM),
    micronsPerMetre: roundMicrons(relative * MM_PER_METRE * MICRONS_PER_MM),
    exact: findNeighbours((multiple * MM_PER_INCH) / length, dpi, toAxis),
    exactWhole: findNeighbours(wholeStep, dpi, toAxis),
  };
}

function solveBoth(
  width: number,
  height: number,
  dpi: Resolution,
  multiple: { readonly x: number; readonly y: number },
): Pick<PixelSolution, "exact" | "exactWhole"> {
  const none = { below: undefined, above: undefined };
  if (dpi.x !== dpi.y) return { exact: none, exactWhole: none };
  const longest = mostPixels(Math.max(width, height));
  const ratio = findRatio(width / height, longest);
  if (ratio === undefined) return { exact: none, exactWhole: none };
  // A cell of over x under pixels is the smallest with the exact shape; `times` makes the stepped axis a multiple of q.
  const timesX = multiple.x / commonDivisor(ratio.over, multiple.x);
  const timesY = multiple.y / commonDivisor(ratio.under, multiple.y);
  const times = (timesX * timesY) / commonDivisor(timesX, timesY);
  const smallest = ratio.over * times;
  const toCell = (near: number): ExactCell => {
    const count = pixelsOf(width, near);
    return { dpi: resolutionOf(count, width), width: count, height: pixelsOf(height, near) };
  };
  const base = (smallest * MM_PER_INCH) / width;
  const whole = findRatio(base, longest);
  return {
    exact: findNeighbours(base, dpi.x, toCell),
    exactWhole: findNeighbours(whole?.over, dpi.x, toCell),
  };
}

/** The multiples of a resolution next to the asked one, strictly below and above it. */
function findNeighbours<T>(
  base: number | undefined,
  asked: number,
  describe: (dpi: number) => T,
): Neighbours<T> {
  if (base === undefined) return { below: undefined, above: undefined };
  const at = asked / base;
  const nearest = snapToWhole(at);
  const isHit = Number.isInteger(nearest);
  const top = Math.floor(HIGHEST_EXACT_DPI / base + EQUAL_WITHIN);
  const bottom = Math.ceil(LOWEST_EXACT_DPI / base - EQUAL_WITHIN);
  const lower = Math.min(isHit ? nearest - 1 : Math.floor(at), top);
  const upper = Math.max(isHit ? nearest + 1 : Math.ceil(at), bottom);
  const resolve = (count: number): T => describe(count * base);
  return {
    below: lower >= Math.max(bottom, 1) ? resolve(lower) : undefined,
    above: upper <= top ? resolve(upper) : undefined,
  };
}
