/**
 * The one file that knows the colour library: its conversions with types of our own, so that none of its types leak.
 */
import {
  differenceCiede2000,
  modeA98,
  modeHsl,
  modeHsv,
  modeHwb,
  modeLab,
  modeLab65,
  modeLch,
  modeLrgb,
  modeOklab,
  modeOklch,
  modeP3,
  modeProphoto,
  modeRec2020,
  modeRgb,
  modeXyz50,
  modeXyz65,
  parse,
  toGamut,
  useMode,
} from "culori/fn";
import { encodeSrgb, recodeRec2020 } from "./transfer.js";

/** Colour components in sRGB, gamma-encoded, D65: 0 to 1 inside the gamut, outside it anything finite. */
export interface Srgb {
  readonly r: number;
  readonly g: number;
  readonly b: number;
}

/** The white point that Lab coordinates refer to. */
export type WhitePoint = "D50" | "D65";

/** CIE 1976 L*a*b*: `l` 0 to 100, `a` and `b` within about -125 to 125 for sRGB colours. */
export interface Lab {
  readonly white: WhitePoint;
  readonly l: number;
  readonly a: number;
  readonly b: number;
}

/** OKLab (Björn Ottosson, "A perceptual color space for image processing", 2020), D65: `l` 0 to 1, `a`, `b` ±0.4. */
export interface Oklab {
  readonly l: number;
  readonly a: number;
  readonly b: number;
}

/** OKLab in polar form, D65: lightness 0 to 1, chroma 0 to about 0.32 in sRGB, hue in degrees, 0 to 360. */
export interface Oklch {
  readonly l: number;
  readonly c: number;
  readonly h: number;
}

const srgb = useMode(modeRgb);
const linear = useMode(modeLrgb);
useMode(modeHsl);
useMode(modeHsv);
useMode(modeHwb);
const lab = useMode(modeLab);
const lab65 = useMode(modeLab65);
useMode(modeLch);
const oklab = useMode(modeOklab);
useMode(modeOklch);
useMode(modeP3);
useMode(modeA98);
useMode(modeProphoto);
useMode(modeRec2020);
useMode(modeXyz50);
useMode(modeXyz65);

const mapIntoGamut = toGamut("rgb", "oklch");

/** Components outside 0 to 1 by less than half an 8-bit step are moved less by clipping than by the rounding. */
const HALF_STEP = 0.5 / 255;

/** Renderers hold components as 32-bit floats, 2^-25 apart just below a half: a component so near to a tie is one. */
const TIE_WITHIN = 255 * 2 ** -25;

const clip = (value: number): number => Math.min(1, Math.max(0, value));

const toByte = (value: number): number => Math.floor(clip(value) * 255 + 0.5 + TIE_WITHIN);

/** `#rrggbb` of components clipped to 0 to 1; halves of an 8-bit step go up, as CSS Color 4, "Serializing sRGB values". */
export function writeHex({ r, g, b }: Srgb): string {
  return `#${[r, g, b].map((value) => toByte(value).toString(16).padStart(2, "0")).join("")}`;
}

/** Components of `#rrggbb`. */
export function readHex(hex: string): Srgb {
  const at = (index: number): number => Number.parseInt(hex.slice(index, index + 2), 16) / 255;
  return { r: at(1), g: at(3), b: at(5) };
}

/**
 * The nearest colour inside sRGB: the gamut mapping of CSS Color 4, section 13.2, "CSS Gamut Mapping" (chroma reduced in
 * OKLCH at kept lightness and hue, with a local clip below a just noticeable difference of 0.02).
 */
export function intoGamut({ r, g, b }: Srgb): Srgb {
  if (isInsideSrgb({ r, g, b })) return { r: clip(r), g: clip(g), b: clip(b) };
  const mapped = mapIntoGamut({ mode: "rgb", r, g, b });
  return { r: clip(mapped.r), g: clip(mapped.g), b: clip(mapped.b) };
}

/** Whether clipping moves a colour less than rounding to 8 bits does. */
export function isInsideSrgb({ r, g, b }: Srgb): boolean {
  return [r, g, b].every((value) => value >= -HALF_STEP && value <= 1 + HALF_STEP);
}

/** A linear space of CSS that the library does not know, and the one it is an encoding away from. */
const LINEAR_P3 = /^color\( *display-p3-linear /;

type Parsed = NonNullable<ReturnType<typeof parse>>;

const recode = <T extends { r?: number; g?: number; b?: number }>(
  colour: T,
  curve: (value: number) => number,
): T => ({
  ...colour,
  r: curve(colour.r ?? 0),
  g: curve(colour.g ?? 0),
  b: curve(colour.b ?? 0),
});

/** Where the library departs from CSS Color 4. */
function correct(parsed: Parsed, isLinearP3: boolean): Parsed {
  // "HSL Colors": a saturation below 0 counts as 0.
  if (parsed.mode === "hsl") return { ...parsed, s: Math.max(0, parsed.s ?? 0) };
  if (parsed.mode === "rec2020") return recode(parsed, recodeRec2020);
  if (parsed.mode === "p3" && isLinearP3) return recode(parsed, encodeSrgb);
  return parsed;
}

/** The library's parser falls over functions of one number with an unknown unit, `rgb(2a)`: these are no colours. */
function parseOrNothing(text: string): ReturnType<typeof parse> {
  try {
    return parse(text);
  } catch {
    return undefined;
  }
}

/**
 * A CSS colour in sRGB, not yet mapped into its gamut, except that `rgb()`, `hsl()` and `hwb()` are clipped to it as their
 * own ranges have it; `undefined` where the text is no colour. The text is in lower case, without comments.
 */
export function parseCss(text: string): { readonly colour: Srgb; readonly alpha: number } | undefined {
  const isLinearP3 = LINEAR_P3.test(text);
  const parsed = parseOrNothing(isLinearP3 ? text.replace("display-p3-linear", "display-p3") : text);
  if (parsed === undefined) return undefined;
  const { r = 0, g = 0, b = 0 } = srgb(correct(parsed, isLinearP3));
  const isClipped = !text.startsWith("color") && ["rgb", "hsl", "hwb"].includes(parsed.mode);
  const colour = isClipped ? { r: clip(r), g: clip(g), b: clip(b) } : { r, g, b };
  return { colour, alpha: parsed.alpha ?? 1 };
}

/** CIE Lab of an ink `#rrggbb`. */
export function hexToLab(hex: string, white: WhitePoint): Lab {
  return srgbToLab(readHex(hex), white);
}

/** CIE Lab of sRGB, also outside its gamut. */
export function srgbToLab(given: Srgb, white: WhitePoint): Lab {
  const colour = { mode: "rgb" as const, ...given };
  const { l, a, b } = white === "D50" ? lab(colour) : lab65(colour);
  return { white, l, a, b };
}

/** OKLab of an ink `#rrggbb`. */
export function hexToOklab(hex: string): Oklab {
  const { l, a, b } = oklab({ mode: "rgb", ...readHex(hex) });
  return { l, a, b };
}

/** sRGB, perhaps outside its gamut, of OKLab. */
export function oklabToSrgb({ l, a, b }: Oklab): Srgb {
  const { r, g, b: blue } = srgb({ mode: "oklab", l, a, b });
  return { r, g, b: blue };
}

/** sRGB with linear light instead of encoded components, 0 to 1. */
export function hexToLinear(hex: string): Srgb {
  const { r, g, b } = linear({ mode: "rgb", ...readHex(hex) });
  return { r, g, b };
}

const ciede = differenceCiede2000();

/** CIEDE2000 of two colours in Lab of one white point, with all three weights 1. */
export function labDifference(one: Lab, other: Lab): number {
  return ciede(
    { mode: "lab65", l: one.l, a: one.a, b: one.b },
    { mode: "lab65", l: other.l, a: other.a, b: other.b },
  );
}
