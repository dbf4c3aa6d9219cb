import { aText } from "../checks.js";
import { normaliseColour, readColour } from "./read.js";
import { hexToLab, isInsideSrgb, labDifference, parseCss, srgbToLab } from "./spaces.js";

/** What became of a colour that lies outside sRGB. */
export interface GamutMove {
  /** `#rrggbb`, the nearest inside. */
  readonly hex: string;
  /** How far it moved, in CIEDE2000 (Lab of D65). */
  readonly difference: number;
}

/**
 * How far a colour is moved when it is mapped into sRGB; `undefined` for one that lies inside, to half an 8-bit step.
 * `rgb()`, `hsl()` and `hwb()` cannot say a colour outside: their own ranges clip them.
 *
 * @throws {@link RepetendError} `E_COLOUR` when it is no colour.
 * @example
 * ```ts
 * import { measureGamut } from "repetend";
 * measureGamut("color(display-p3 0 1 0)")?.hex; // "#00fb29"
 * measureGamut("#00ff00"); // undefined
 * ```
 */
export function measureGamut(colour: string): GamutMove | undefined {
  aText(colour, "colour");
  const { hex } = readColour(colour);
  const given = parseCss(normaliseColour(colour))?.colour;
  if (given === undefined || isInsideSrgb(given)) return undefined;
  return { hex, difference: labDifference(srgbToLab(given, "D65"), hexToLab(hex, "D65")) };
}
