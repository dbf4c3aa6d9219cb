import { aVision } from "./checks.js";
import { readInk } from "./read.js";
import { hexToLinear, writeHex } from "./spaces.js";
import { encodeSrgb } from "./transfer.js";

/** The cones that are missing: long wave (protan), middle (deutan) or short (tritan). */
export type Vision = "protan" | "deutan" | "tritan";

type Row = readonly [red: number, green: number, blue: number];

/**
 * For linear sRGB, severity 1.0: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A Physiologically-based Model for
 * Simulation of Color Vision Deficiency", IEEE Trans. Vis. Comput. Graph. 15 (2009), table 1 and its supplement.
 * Each row sums to 1, so that greys stay as they are.
 */
const MATRICES: Readonly<Record<Vision, readonly [Row, Row, Row]>> = {
  protan: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deutan: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritan: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

/**
 * An ink as someone sees it who lacks one kind of cones, to find out whether two inks of a colourway stay apart for
 * everybody. What lies outside sRGB is clipped. For tritan vision the model is a coarse approximation, as its authors say.
 *
 * @returns `#rrggbb`.
 * @throws {@link RepetendError} `E_COLOUR` when the ink is no opaque colour.
 * @example
 * ```ts
 * import { colourDifference, simulateVision } from "repetend";
 * const [reed, brick] = ["#6b7f2a", "#a8552c"];
 * colourDifference(reed, brick) > 30; // true
 * colourDifference(simulateVision(reed, "deutan"), simulateVision(brick, "deutan")) < 2; // true
 * ```
 */
export function simulateVision(ink: string, vision: Vision): string {
  aVision(vision, "vision");
  const { r, g, b } = hexToLinear(readInk(ink));
  const [red, green, blue] = MATRICES[vision];
  const seen = ([fromRed, fromGreen, fromBlue]: Row): number =>
    encodeSrgb(fromRed * r + fromGreen * g + fromBlue * b);
  return writeHex({ r: seen(red), g: seen(green), b: seen(blue) });
}
