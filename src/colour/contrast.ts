import { readInk } from "./read.js";
import { hexToLinear } from "./spaces.js";

function luminance(hex: string): number {
  const { r, g, b } = hexToLinear(hex);
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/**
 * The contrast ratio of two inks, from 1 (equal) to 21 (black and white): how legible one is on the other, for boards and
 * spec sheets. Symmetric.
 *
 * Source: Web Content Accessibility Guidelines 2.2, "contrast ratio" and "relative luminance".
 *
 * @throws {@link RepetendError} `E_COLOUR` when one is no opaque colour.
 * @example
 * ```ts
 * import { contrastRatio } from "repetend";
 * contrastRatio("black", "white"); // 21
 * ```
 */
export function contrastRatio(one: string, other: string): number {
  const [light, dark] = [luminance(readInk(one)), luminance(readInk(other))].sort(
    (first, second) => second - first,
  );
  return ((light ?? 0) + 0.05) / ((dark ?? 0) + 0.05);
}
