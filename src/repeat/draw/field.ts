import { anObject, partsOf } from "../../checks.js";
import { RepetendError } from "../../errors.js";
import type { Box } from "../../geometry/box.js";
import { writeNumber } from "../../svg/index.js";
import { type Length, mm } from "../../units/index.js";
import { aPrint, FIELD_PARTS } from "../checks.js";
import type { Print } from "../types.js";
import { describeRepeat } from "./describe.js";
import { writeDocument } from "./document.js";
import { drawLayers } from "./draw.js";
import { layersInWindow } from "./layers.js";

/** A window of the endless cloth. */
export interface Window {
  /** Along the cloth. Default 0; 1000 km either way, since the cloth has no end. */
  readonly x?: Length;
  /** Across the cloth. Default 0. */
  readonly y?: Length;
  /** At least 0.00001 mm. */
  readonly width: Length;
  readonly height: Length;
}

/** How a field or tile is written. */
export interface FieldOptions {
  /** Put before every id, for several drawings in one document: letters, digits, `_ . : -`. Default: nothing. */
  readonly scope?: string;
  /** The colourway's name, for the title. */
  readonly colourway?: string;
}

/** A ten-thousandth of a mm is a thousandth of a pixel at 300 dpi, well below what a renderer resolves. */
export const MM_DIGITS = 5;

/** In mm: numbers still tell a millionth of a mm there. */
const FARTHEST = 1e9;

/** In mm: what is smaller would be written as 0. */
const SMALLEST = 10 ** -MM_DIGITS;

/** Reads a window to mm. */
export function readWindow(window: Window): Box {
  anObject(window, "window");
  const box = {
    x: mm(window.x ?? 0),
    y: mm(window.y ?? 0),
    width: mm(window.width),
    height: mm(window.height),
  };
  const far = [box.x, box.y, box.width, box.height].find((length) => Math.abs(length) > FARTHEST);
  if (far !== undefined) {
    throw new RepetendError("E_NUMBER", "a window lies farther off than any cloth reaches", {
      where: "window",
      value: `${far} mm`,
      accepted: `at most ${FARTHEST} mm`,
    });
  }
  if (box.width >= SMALLEST && box.height >= SMALLEST) return box;
  throw new RepetendError("E_SIZE", "a window is more than 0 wide and tall", {
    where: "window",
    value: `${window.width} x ${window.height}`,
    accepted: `at least ${writeNumber(SMALLEST, MM_DIGITS)} mm`,
  });
}

/** The title of a drawing: print and colourway. */
export function titleOf(print: Print, options: FieldOptions): string {
  return options.colourway === undefined ? print.name : `${print.name}, ${options.colourway}`;
}

/**
 * Any window of the endless cloth as SVG text, true to size. Copies that reach over the window's edges are whole; the
 * window cuts them. The same window one lattice vector on gives the same picture.
 *
 * @throws {@link RepetendError} `E_SIZE`, `E_UNIT`, `E_NUMBER` for the window, `E_INSTANCES` where it shows more than 500,000
 * motifs.
 * @example
 * ```ts
 * import { field, straight } from "repetend";
 * const print = straight({ name: "Plain", width: 100, height: 100, ground: "#f2ead8", motifs: [] });
 * field(print, { x: "-5cm", y: 0, width: "1m", height: "50cm" }).startsWith("<svg"); // true
 * ```
 */
export function field(print: Print, window: Window, options: FieldOptions = {}): string {
  aPrint(print, "print");
  partsOf<FieldOptions>(FIELD_PARTS)(options, "options");
  const box = readWindow(window);
  const drawn = drawLayers(layersInWindow(print, box), {
    window: box,
    digits: MM_DIGITS,
    ...(options.scope === undefined ? {} : { scope: options.scope }),
  });
  return writeDocument(drawn, {
    width: box.width,
    height: box.height,
    unit: "mm",
    digits: MM_DIGITS,
    title: titleOf(print, options),
    description: describeRepeat(print),
  });
}
