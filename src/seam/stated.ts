import { RepetendError } from "../errors.js";
import { type Length, readLength } from "../units/index.js";
import type { EdgePair } from "./types.js";

/** One side of a repeat: a length on the cloth, or pixels of the picture. */
export type StatedSide = Length | { readonly px: number };

/** The repeat that a picture is said to hold; a side that is left out is not compared. */
export interface StatedRepeat {
  readonly width?: StatedSide;
  readonly height?: StatedSide;
}

/** How a side of a picture fits the repeat it is said to hold. Pixels. */
export interface StatedFit {
  readonly side: number;
  readonly repeat: number;
  /** The whole number of repeats that comes nearest, 1 or more. */
  readonly count: number;
  /** How much the picture is too long, or too short where it is negative. */
  readonly over: number;
  readonly isWhole: boolean;
}

const MM_PER_INCH = 25.4;

/** A length falls between pixels, and the nearest whole pixel is right; a repeat in pixels has no such excuse. */
const TOLERANCE = { length: 0.5 + 1e-6, px: 1e-6 } as const;

function readSide(side: StatedSide, where: string, dpi: number | undefined): number {
  if (typeof side === "object" && side !== null) {
    if (side.px > 0 && Number.isFinite(side.px)) return side.px;
    throw new RepetendError("E_NUMBER", "a repeat in pixels is more than 0", {
      where: `${where}.px`,
      value: String(side.px),
      accepted: "pixels, above 0",
    });
  }
  const mm = readLength(side, { where, above: 0 });
  if (dpi !== undefined) return (mm / MM_PER_INCH) * dpi;
  throw new RepetendError(
    "E_SIZE",
    "a repeat is stated as a length, but the picture's resolution is not known",
    {
      where,
      value: String(side),
      accepted: "options.dpi, or a repeat as { px }",
    },
  );
}

/** Holds the side of a picture that lies between two edges against the stated repeat; `undefined` where none is stated. */
export function fitStated(
  edge: EdgePair,
  picture: {
    readonly width: number;
    readonly height: number;
    readonly dpi: { readonly x: number; readonly y: number } | undefined;
  },
  stated: StatedRepeat,
): StatedFit | undefined {
  const name = edge === "left-right" ? "width" : "height";
  const given = stated[name];
  if (given === undefined) return undefined;
  const dpi = edge === "left-right" ? picture.dpi?.x : picture.dpi?.y;
  const repeat = readSide(given, `options.repeat.${name}`, dpi);
  const side = picture[name];
  const count = Math.max(1, Math.round(side / repeat));
  const over = side - count * repeat;
  const tolerance = typeof given === "object" ? TOLERANCE.px : TOLERANCE.length;
  return { side, repeat, count, over, isWhole: Math.abs(over) <= tolerance };
}
