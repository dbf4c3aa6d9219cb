import { aNumber, oneOf, partsOf } from "../checks.js";
import { readInk } from "./read.js";
import {
  hexToLab,
  hexToOklab,
  intoGamut,
  type Lab,
  type Oklab,
  type Oklch,
  oklabToSrgb,
  type WhitePoint,
  writeHex,
} from "./spaces.js";

const DEGREES = 180 / Math.PI;

/** Below this chroma an 8-bit grey is only rounding away from no hue at all: the library's greys come to about 4e-8. */
const NO_CHROMA = 1e-6;

/**
 * CIE Lab of an ink, for a white point: D65, that of sRGB, by default, or D50, as spectrophotometers and ICC profiles have
 * it.
 *
 * @throws {@link RepetendError} `E_COLOUR` when the ink is no opaque colour.
 * @example
 * ```ts
 * import { toLab } from "repetend";
 * toLab("#008000", "D50").l; // 46.27770902748027
 * ```
 */
export function toLab(ink: string, white: WhitePoint = "D65"): Lab {
  oneOf("D50", "D65")(white, "white");
  return hexToLab(readInk(ink), white);
}

/**
 * OKLab of an ink.
 *
 * @throws {@link RepetendError} `E_COLOUR` when the ink is no opaque colour.
 * @example
 * ```ts
 * import { toOklab } from "repetend";
 * toOklab("#ffffff").l; // 1, to within the rounding of doubles
 * ```
 */
export function toOklab(ink: string): Oklab {
  return hexToOklab(readInk(ink));
}

/**
 * OKLCH of an ink: hue in degrees from 0 to 360, and 0 for a grey.
 *
 * @throws {@link RepetendError} `E_COLOUR` when the ink is no opaque colour.
 * @example
 * ```ts
 * import { toOklch } from "repetend";
 * Math.round(toOklch("#008000").h); // 142
 * ```
 */
export function toOklch(ink: string): Oklch {
  return toPolar(toOklab(ink));
}

/**
 * The ink of a colour in OKLCH; one outside sRGB is mapped into it with lightness and hue kept, as CSS Color 4, section
 * 13.2 has it.
 *
 * @returns `#rrggbb`.
 * @example
 * ```ts
 * import { fromOklch } from "repetend";
 * fromOklch({ l: 0.51975, c: 0.17686, h: 142.495 }); // "#008000"
 * ```
 */
export function fromOklch(colour: Oklch): string {
  partsOf<Oklch>({ l: aNumber, c: aNumber, h: aNumber })(colour, "colour");
  return writeHex(intoGamut(oklabToSrgb(fromPolar(colour))));
}

/** OKLab in polar form. */
export function toPolar({ l, a, b }: Oklab): Oklch {
  const c = Math.hypot(a, b);
  if (c < NO_CHROMA) return { l, c: 0, h: 0 };
  const h = Math.atan2(b, a) * DEGREES;
  return { l, c, h: h < 0 ? h + 360 : h };
}

/** OKLab from polar form. */
export function fromPolar({ l, c, h }: Oklch): Oklab {
  return { l, a: c * Math.cos(h / DEGREES), b: c * Math.sin(h / DEGREES) };
}
