import { partsOf } from "../checks.js";
import { type Note, RepetendError } from "../errors.js";
import { DERIVE_PARTS, someInks } from "./checks.js";
import { readKeep } from "./cluster-inks.js";
import { fromPolar, toPolar } from "./convert.js";
import { readInk } from "./read.js";
import { hexToOklab, intoGamut, type Oklab, oklabToSrgb, writeHex } from "./spaces.js";

/** How inks are turned into those of another colourway. */
export interface DeriveOptions {
  /** Degrees by which every hue is turned in OKLCH, any finite number. Default 0. */
  readonly turnHue?: number;
  /** What is added to every lightness in OKLCH, -1 to 1, where black is 0 and white 1. Default 0. */
  readonly lighten?: number;
  /** What every chroma in OKLCH is multiplied by, 0 (grey) to 4. Default 1. */
  readonly chroma?: number;
  /** Inks that stay as they are. Default none. */
  readonly keep?: readonly string[];
  /** Inks that become exactly these; the others follow, the nearer the more. Default none. */
  readonly anchors?: Readonly<Record<string, string>>;
}

/** The answer of {@link deriveInks}. */
export interface DerivedInks {
  /** What each ink becomes, for a colourway. */
  readonly inks: Readonly<Record<string, string>>;
  /** `N_OUT_OF_GAMUT` for each ink whose colour had to be mapped into sRGB, by how much it moved in OKLab. */
  readonly notes: readonly Note[];
}

/**
 * Derives the inks of another colourway: hues turned, lightened and made more or less colourful in OKLCH, and drawn along
 * with the inks whose new colour is already decided.
 *
 * Every anchor moves from where the turn would have put it to its own colour; every other ink makes the mean of these moves
 * in OKLab, weighted by the inverse square of its distance to each anchor's old colour (D. Shepard, "A two-dimensional
 * interpolation function for irregularly-spaced data", ACM National Conference 1968). So one anchor shifts all inks alike,
 * and the anchors themselves are met exactly. A colour outside sRGB is mapped into it as CSS Color 4 has it.
 *
 * @param inks - Opaque CSS colours.
 * @throws {@link RepetendError} `E_NUMBER` for a number out of range; `E_INK` for an ink to keep or an anchor that is not
 * among the inks, and for one that is both or stands twice; `E_COLOUR` for one that cannot be read.
 * @example
 * ```ts
 * import { colourway, deriveInks } from "repetend";
 * const { inks } = deriveInks(["#f2ead8", "#6b7f2a", "#8a9a4c"], {
 *   keep: ["#f2ead8"],
 *   anchors: { "#6b7f2a": "#2a5f7f" },
 * });
 * colourway("Low Tide", inks).inks["#6b7f2a"]; // "#2a5f7f"
 * ```
 */
export function deriveInks(inks: readonly string[], options: DeriveOptions = {}): DerivedInks {
  someInks(inks, "inks");
  partsOf<DeriveOptions>(DERIVE_PARTS)(options, "options");
  const { turnHue = 0, lighten = 0, chroma = 1 } = options;
  checkRange("turnHue", turnHue, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY);
  checkRange("lighten", lighten, -1, 1);
  checkRange("chroma", chroma, 0, 4);
  const all = [...new Set(inks.map((ink) => readInk(ink)))];
  const keep = readKeep(options.keep ?? [], all);
  const isStill = turnHue % 360 === 0 && lighten === 0 && chroma === 1;
  const turn = (ink: string): Oklab => {
    const { l, c, h } = toPolar(hexToOklab(ink));
    return isStill ? hexToOklab(ink) : fromPolar({ l: l + lighten, c: c * chroma, h: h + turnHue });
  };
  const anchors = readAnchors(options.anchors ?? {}, all, keep).map(({ ink, to }) => ({
    ink,
    to,
    at: hexToOklab(ink),
    pull: subtract(hexToOklab(to), turn(ink)),
  }));
  const notes: Note[] = [];
  const derive = (ink: string): string => {
    if (keep.includes(ink)) return ink;
    const anchor = anchors.find((one) => one.ink === ink);
    if (anchor !== undefined) return anchor.to;
    const wanted = add(turn(ink), meanPull(hexToOklab(ink), anchors));
    const hex = writeHex(intoGamut(oklabToSrgb(wanted)));
    const moved = measure(subtract(hexToOklab(hex), wanted));
    if (moved > NOTICEABLE) notes.push(describeMove(ink, hex, moved));
    return hex;
  };
  return { inks: Object.fromEntries(all.map((ink) => [ink, derive(ink)])), notes };
}

/** A just noticeable difference in OKLab (CSS Color 4, section 13.2). */
const NOTICEABLE = 0.02;

const describeMove = (ink: string, hex: string, moved: number): Note => ({
  level: "warning",
  code: "N_OUT_OF_GAMUT",
  where: ink,
  message: `ink ${ink} would become a colour outside sRGB: ${hex} is ${moved.toFixed(3)} away from it in OKLab`,
});

function checkRange(where: string, value: number, least: number, most: number): void {
  if (Number.isFinite(value) && value >= least && value <= most) return;
  throw new RepetendError("E_NUMBER", "a number is out of range", {
    where,
    value: String(value),
    accepted: Number.isFinite(least) ? `${least} to ${most}` : "any finite number",
  });
}

interface Anchor {
  readonly ink: string;
  readonly to: string;
}

function readAnchors(
  anchors: Readonly<Record<string, string>>,
  inks: readonly string[],
  keep: readonly string[],
): readonly Anchor[] {
  const refuse = (problem: string, value: string): RepetendError =>
    new RepetendError("E_INK", problem, { where: "anchors", value });
  const read = new Map<string, string>();
  for (const [from, target] of Object.entries(anchors)) {
    const ink = readInk(from, "anchors");
    const to = readInk(target, `anchors[${JSON.stringify(from)}]`);
    if (!inks.includes(ink)) throw refuse("an anchor is not among the inks of the print", from);
    if (keep.includes(ink)) throw refuse("an ink is an anchor and to be kept", from);
    if ((read.get(ink) ?? to) !== to) throw refuse("one ink is to become two", from);
    read.set(ink, to);
  }
  return [...read].map(([ink, to]) => ({ ink, to }));
}

function meanPull(from: Oklab, anchors: readonly { readonly at: Oklab; readonly pull: Oklab }[]): Oklab {
  let sum: Oklab = { l: 0, a: 0, b: 0 };
  let weights = 0;
  for (const { at, pull } of anchors) {
    const weight = 1 / measure(subtract(from, at)) ** 2;
    sum = add(sum, { l: pull.l * weight, a: pull.a * weight, b: pull.b * weight });
    weights += weight;
  }
  return weights === 0 ? sum : { l: sum.l / weights, a: sum.a / weights, b: sum.b / weights };
}

const add = (one: Oklab, other: Oklab): Oklab => ({
  l: one.l + other.l,
  a: one.a + other.a,
  b: one.b + other.b,
});

const subtract = (one: Oklab, other: Oklab): Oklab => ({
  l: one.l - other.l,
  a: one.a - other.a,
  b: one.b - other.b,
});

const measure = ({ l, a, b }: Oklab): number => Math.hypot(l, a, b);
