import { aNumber, oneOf, partsOf } from "../checks.js";
import { RepetendError } from "../errors.js";
import { readInk } from "./read.js";
import { hexToLab, type Lab, labDifference } from "./spaces.js";

const aLab = partsOf<Lab>({ white: oneOf("D50", "D65"), l: aNumber, a: aNumber, b: aNumber });

/**
 * The colour difference CIEDE2000 of two colours in Lab, with the weights kL = kC = kH = 1: about 1 is what a trained eye
 * just tells apart side by side. Symmetric.
 *
 * Source: CIE 142-2001; G. Sharma, W. Wu, E. N. Dalal, "The CIEDE2000 color-difference formula: implementation notes,
 * supplementary test data, and mathematical observations", Color Res. Appl. 30 (2005).
 *
 * @throws {@link RepetendError} `E_COLOUR` when the two refer to different white points.
 * @example
 * ```ts
 * import { ciede2000 } from "repetend";
 * ciede2000({ white: "D65", l: 50, a: 2.6772, b: -79.7751 }, { white: "D65", l: 50, a: 0, b: -82.7485 }); // 2.0425, rounded
 * ```
 */
export function ciede2000(one: Lab, other: Lab): number {
  aLab(one, "one");
  aLab(other, "other");
  if (one.white === other.white) return labDifference(one, other);
  throw new RepetendError("E_COLOUR", "two colours in Lab refer to different white points", {
    value: `${one.white}, ${other.white}`,
    accepted: "one white point",
  });
}

/**
 * How far two inks differ to the eye: CIEDE2000 in Lab of D65, the white of sRGB. 0 for one ink, about 1 where a trained
 * eye just tells them apart, 100 from black to white.
 *
 * @throws {@link RepetendError} `E_COLOUR` when one is no opaque colour.
 * @example
 * ```ts
 * import { colourDifference } from "repetend";
 * colourDifference("#1b2a41", "#1b2a42") < 1; // true
 * ```
 */
export function colourDifference(one: string, other: string): number {
  return hexDifference(readInk(one), readInk(other));
}

/** {@link colourDifference} of inks already read. */
export function hexDifference(one: string, other: string): number {
  return one === other ? 0 : labDifference(hexToLab(one, "D65"), hexToLab(other, "D65"));
}
