import { anObject } from "../checks.js";
import { RepetendError } from "../errors.js";
import { intoGamut, parseCss, type Srgb, writeHex } from "./spaces.js";

/** A colour as a renderer takes it: sRGB in 8 bits a component, and coverage. */
export interface Colour {
  /** `#rrggbb` in lower case. */
  readonly hex: string;
  /** 0 (transparent) to 1 (opaque). */
  readonly alpha: number;
}

/** A colour object of another library: `rgb()` gives 0 to 255 a component and an opacity of 0 to 1, as in d3-color. */
export interface ColourObject {
  /** The colour in sRGB. */
  rgb(): { readonly r: number; readonly g: number; readonly b: number; readonly opacity: number };
}

/** Longer than any colour in CSS; keeps patterns from being fed a book. */
const LONGEST_TEXT = 256;

const ACCEPTED =
  "a CSS colour: a name, #rrggbb, rgb(), hsl(), hwb(), lab(), lch(), oklab(), oklch() or color()";

/** CSS Color 4 is what is read; the library underneath knows more, and takes hexadecimal digits without their "#". */
const SHAPES = [
  /^#[0-9a-f]+$/,
  /^[a-z]+$/,
  /^(?:rgba?|hsla?|hwb|lab|lch|oklab|oklch)\([^()]*\)$/,
  /^color\( *(?:srgb|srgb-linear|display-p3|display-p3-linear|a98-rgb|prophoto-rgb|rec2020|xyz|xyz-d50|xyz-d65) [^()]*\)$/,
];

const PAINT = /^(?:none|currentcolor|context-fill|context-stroke|url\(.*)$/;

/** CSS Color 4, "Missing Color Components": one that is missing counts as 0, and so does the alpha. */
const NO_ALPHA = /\/ *none *\)$/;

/** Lower case for ASCII letters only, comments and runs of white space to one space, as CSS has it. */
export function normaliseColour(text: string): string {
  return text
    .replace(/[A-Z]/g, (letter) => letter.toLowerCase())
    .replace(/\/\*[\s\S]*?\*\//g, " ")
    .replace(/[ \t\r\n\f]+/g, " ")
    .replace(/^ | $/g, "");
}

function refuse(problem: string, value: string, where: string | undefined): RepetendError {
  return new RepetendError("E_COLOUR", problem, {
    ...(where === undefined ? {} : { where }),
    value,
    accepted: ACCEPTED,
  });
}

function finish(colour: Srgb, alpha: number, value: string, where: string | undefined): Colour {
  if (![colour.r, colour.g, colour.b, alpha].every(Number.isFinite)) {
    throw refuse("a colour has a component that is not finite", value, where);
  }
  return { hex: writeHex(intoGamut(colour)), alpha: Math.min(1, Math.max(0, alpha)) };
}

/**
 * Reads any colour of CSS Color 4, as `#rrggbb` in sRGB and an alpha of 0 to 1.
 *
 * `rgb()`, `hsl()` and `hwb()` outside their ranges are clipped; every other colour outside sRGB is mapped into it as
 * CSS Color 4, section 13.2 has it (chroma reduced in OKLCH). Components called `none` count as 0. Colours of the
 * reader's system, `calc()` and relative colours are refused, and so are the paints `none`, `currentColor` and `url()`.
 *
 * @param colour - The text, or an object with `rgb()`, for example one of d3-color.
 * @param where - Where it stands, for the error.
 * @throws {@link RepetendError} `E_COLOUR` when it is no colour.
 * @example
 * ```ts
 * import { readColour } from "repetend";
 * readColour("lab(46.277 -47.562 48.583)"); // { hex: "#008000", alpha: 1 }
 * readColour("rgb(27 42 65 / 50%)").alpha; // 0.5
 * ```
 */
export function readColour(colour: string | ColourObject, where?: string): Colour {
  if (typeof colour !== "string") return readColourObject(colour, where);
  if (colour.length > LONGEST_TEXT) throw refuse("a colour is longer than any", colour, where);
  const text = normaliseColour(colour);
  if (PAINT.test(text)) throw refuse("a paint stands where a colour is needed", colour, where);
  const parsed = SHAPES.some((shape) => shape.test(text)) ? parseCss(text) : undefined;
  if (parsed === undefined) {
    const hint = BARE_HEX.test(text) ? `; did you mean "#${text}"?` : "";
    throw refuse(`a colour cannot be read${hint}`, colour, where);
  }
  return finish(parsed.colour, NO_ALPHA.test(text) ? 0 : parsed.alpha, colour, where);
}

/** Spreadsheets and drawing programs show these without their sign. */
const BARE_HEX = /^(?:[0-9a-f]{3}|[0-9a-f]{6})$/i;

/**
 * Reads a colour object of another library, known by its method `rgb()`, as d3-color has it.
 *
 * @param where - Where it stands, for the error.
 * @throws {@link RepetendError} `E_COLOUR` when it is no such object, or not a colour (d3-color's NaN).
 * @example
 * ```ts
 * import { readColourObject } from "repetend";
 * readColourObject({ rgb: () => ({ r: 27, g: 42, b: 65, opacity: 1 }) }).hex; // "#1b2a41"
 * ```
 */
export function readColourObject(colour: ColourObject, where?: string): Colour {
  if (typeof colour !== "object" || colour === null || typeof colour.rgb !== "function") {
    throw refuse("a colour is neither text nor an object with rgb()", String(colour), where);
  }
  const parts: unknown = colour.rgb();
  anObject(parts, where ?? "rgb()");
  const { r, g, b, opacity } = parts as ReturnType<ColourObject["rgb"]>;
  return finish({ r: r / 255, g: g / 255, b: b / 255 }, opacity, `rgb(${r} ${g} ${b} / ${opacity})`, where);
}

/**
 * Reads a colour that is to be an ink: any of CSS Color 4, but opaque, since an ink is printed solid.
 *
 * @param where - Where it stands, for the error.
 * @returns `#rrggbb` in lower case.
 * @throws {@link RepetendError} `E_COLOUR` when it is no colour, or not opaque.
 * @example
 * ```ts
 * import { readInk } from "repetend";
 * readInk("DarkSlateGray"); // "#2f4f4f"
 * ```
 */
export function readInk(colour: string | ColourObject, where?: string): string {
  const { hex, alpha } = readColour(colour, where);
  if (alpha === 1) return hex;
  throw new RepetendError("E_COLOUR", "an ink is printed solid", {
    ...(where === undefined ? {} : { where }),
    value: typeof colour === "string" ? colour : `${hex} / ${alpha}`,
    accepted: "an opaque colour",
  });
}
