import { anObject } from "../../checks.js";
import { RepetendError } from "../../errors.js";
import { type Length, mm } from "../../units/index.js";
import { allOverOptions } from "../checks.js";
import type { AllOver, Grain, Layout, Placement } from "../types.js";
import { readGround } from "./ground.js";
import { largeNotes } from "./large-notes.js";
import { areCoprime, readStep, type StepLike } from "./step.js";
import { touchingNotes } from "./touching-notes.js";

/** What every all-over print is made of. */
export interface AllOverOptions {
  readonly name: string;
  /** Width of one cell of the lattice, more than 0. */
  readonly width: Length;
  /** Height of one cell of the lattice, more than 0. */
  readonly height: Length;
  /** A CSS colour, or "none". Default: bare cloth. */
  readonly ground?: string;
  /** In paint order; each is repeated on the whole lattice. */
  readonly motifs: readonly Placement[];
  /** Which axis of the artwork runs along the warp. Default "y". */
  readonly grain?: Grain;
}

function allOver(options: AllOverOptions, layout: Layout): AllOver {
  allOverOptions(options, "options");
  const size = (length: Length, where: string): number => {
    const value = mm(length);
    if (value > 0) return value;
    throw new RepetendError("E_SIZE", "a repeat is more than 0 wide and tall", {
      input: options.name,
      where,
      value: String(length),
      accepted: "a length above 0",
    });
  };
  const [width, height] = [size(options.width, "width"), size(options.height, "height")];
  return {
    kind: "all-over",
    name: options.name,
    layout,
    width,
    height,
    ground: readGround(options.ground, "ground"),
    motifs: options.motifs,
    grain: options.grain ?? "y",
    notes: [
      ...largeNotes(options.motifs, { width, height }),
      ...touchingNotes(options.motifs, { width, height }),
    ],
  };
}

/**
 * A straight repeat: cells side by side and under each other.
 *
 * @throws {@link RepetendError} `E_SIZE`, `E_UNIT`, `E_NUMBER` for sizes, `E_COLOUR` for the ground.
 * @example
 * ```ts
 * import { straight, tile } from "repetend";
 * tile(straight({ name: "Plain", width: "16cm", height: "16cm", ground: "#f2ead8", motifs: [] })).width; // 160
 * ```
 */
export function straight(options: AllOverOptions): AllOver {
  return allOver(options, { kind: "straight" });
}

/**
 * A half-drop: each next column is lower by half the repeat. `width` and `height` are those of one column's cell;
 * the tile that repeats by itself is two columns wide.
 *
 * @throws {@link RepetendError} `E_SIZE`, `E_UNIT`, `E_NUMBER` for sizes, `E_COLOUR` for the ground.
 * @example
 * ```ts
 * import { halfDrop, tile } from "repetend";
 * tile(halfDrop({ name: "Plain", width: "16cm", height: "18cm", motifs: [] })).width; // 320
 * ```
 */
export function halfDrop(options: AllOverOptions): AllOver {
  return allOver(options, { kind: "half-drop" });
}

/**
 * A brick repeat: each next row is moved along by half the repeat. The tile that repeats by itself is two rows tall.
 *
 * @throws {@link RepetendError} `E_SIZE`, `E_UNIT`, `E_NUMBER` for sizes, `E_COLOUR` for the ground.
 * @example
 * ```ts
 * import { brick, tile } from "repetend";
 * tile(brick({ name: "Plain", width: "16cm", height: "8cm", motifs: [] })).height; // 160
 * ```
 */
export function brick(options: AllOverOptions): AllOver {
  return allOver(options, { kind: "brick" });
}

/** What a stepped repeat needs besides. */
export interface SteppedOptions extends AllOverOptions {
  /** "column": each next column is lower by the step; "row": each next row is moved along by it. */
  readonly along: "column" | "row";
  /** An exact fraction of the repeat, for example "1/3". */
  readonly step: StepLike;
}

/**
 * A stepped repeat: each next column is lower (or each next row is moved along) by p/q of the repeat.
 * The tile that repeats by itself is q columns wide (or q rows tall).
 *
 * @throws {@link RepetendError} `E_LAYOUT` for the step, `E_SIZE`, `E_UNIT`, `E_NUMBER` for sizes, `E_COLOUR` for the ground.
 * @example
 * ```ts
 * import { stepped, tile } from "repetend";
 * const third = stepped({ name: "Third", width: 160, height: 180, along: "column", step: "1/3", motifs: [] });
 * tile(third).width; // 480
 * ```
 */
export function stepped(options: SteppedOptions): AllOver {
  anObject(options, "options");
  if (options.along !== "column" && options.along !== "row") {
    throw new RepetendError("E_LAYOUT", "a step runs along columns or rows", {
      input: options.name,
      where: "along",
      value: String(options.along),
      accepted: '"column" or "row"',
    });
  }
  return allOver(options, { kind: "stepped", along: options.along, step: readStep(options.step) });
}

/** What a satin repeat needs besides. `width` and `height` are those of the whole repeat of all ends. */
export interface SatinOptions extends AllOverOptions {
  /** How many places the repeat has, 5 or more: one in each of as many columns and rows. */
  readonly ends: number;
  /** By how many rows each next column moves on: no common divisor with `ends`, neither 1 nor `ends` - 1. */
  readonly move: number;
}

/**
 * A satin (spot) repeat: the drawing stands once in each of `ends` columns, each time `move` rows further down, as the
 * binding points of a satin weave, so that no line of spots meets the eye. That `ends` and `move` have no common
 * divisor and `move` is neither 1 nor `ends` - 1 is common practice.
 *
 * @throws {@link RepetendError} `E_LAYOUT` for ends and move, `E_SIZE`, `E_UNIT`, `E_NUMBER` for sizes, `E_COLOUR` for the ground.
 * @example
 * ```ts
 * import { satin, tile } from "repetend";
 * tile(satin({ name: "Spot", width: 200, height: 200, ends: 5, move: 2, motifs: [] })).width; // 200
 * ```
 */
export function satin(options: SatinOptions): AllOver {
  anObject(options, "options");
  const { ends, move } = options;
  const fits =
    Number.isSafeInteger(ends) &&
    Number.isSafeInteger(move) &&
    ends >= 5 &&
    ends <= 64 &&
    move > 1 &&
    move < ends - 1;
  if (!fits || !areCoprime(ends, move)) {
    throw new RepetendError("E_LAYOUT", "a satin of this order leaves lines of spots", {
      input: options.name,
      where: "ends, move",
      value: `${ends}, ${move}`,
      accepted: "ends from 5 to 64; move above 1, below ends - 1, with no divisor in common with ends",
    });
  }
  return allOver(options, { kind: "satin", ends, move });
}
