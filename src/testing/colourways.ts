import fc from "fast-check";
import { type Colourway, colourway, readInk } from "../colour/index.js";
import { inksOf, type Print } from "../repeat/index.js";
import { readNumber } from "./bounds.js";
import { aSubject, colourwaysOptions } from "./checks.js";
import { palettes } from "./palettes.js";
import { withRecipe, writeCall } from "./recipe.js";

/** What {@link colourways} draws from. */
export interface ColourwaysOptions {
  /** "trade": the inks trade places. "fresh": every ink becomes a new one. Default: either. */
  readonly by?: "trade" | "fresh" | "either";
  /** The least CIEDE2000 between any two fresh inks, inclusive, 0 to 100. Default 5. */
  readonly apart?: number;
}

/** The order that so many picks make of a list: each place in turn trades with one further on. Zeros change nothing. */
function trade(inks: readonly string[], picks: readonly number[]): readonly string[] {
  const traded = [...inks];
  for (const [place, pick] of picks.entries()) {
    const other = place + (pick % (inks.length - place));
    [traded[place], traded[other]] = [traded[other] ?? "", traded[place] ?? ""];
  }
  return traded;
}

/**
 * Colourways of a print, or of some inks: every ink has an entry; inks trade places, or become fresh ones that stay
 * apart. No two inks become one. Shrinks to the colourway that changes nothing, or to one trade; fresh inks as
 * `palettes` does.
 *
 * @param subject - A print, or inks as any opaque CSS colours.
 * @throws `RepetendError` `E_COLOUR` for an ink that cannot be read, `E_NUMBER` for an option out of range.
 * @example
 * ```ts
 * import fc from "fast-check";
 * import { colourways } from "repetend/testing";
 * fc.assert(fc.property(colourways(["#f2ead8", "#1b2a41"], { by: "trade" }), ({ inks }) => inks["#f2ead8"] !== inks["#1b2a41"]));
 * ```
 */
export function colourways(
  subject: Print | readonly string[],
  options: ColourwaysOptions = {},
): fc.Arbitrary<Colourway> {
  aSubject(subject, "subject");
  colourwaysOptions(options, "options");
  const drawn =
    "kind" in subject ? inksOf(subject).map((use) => use.ink) : subject.map((ink) => readInk(ink));
  const inks = [...new Set(drawn)];
  const apart = readNumber("apart", options.apart ?? 5, { atLeast: 0, atMost: 100 });
  const { by = "either" } = options;
  const traded = fc
    .tuple(...inks.map((_, place) => fc.nat(inks.length - 1 - place)))
    .map((picks) => trade(inks, picks));
  const fresh = inks.length === 0 ? fc.constant([]) : palettes({ count: inks.length, apart });
  const ways = by === "trade" ? [traded] : by === "fresh" ? [fresh] : [traded, fresh];
  return fc.oneof({ withCrossShrink: true }, ...ways).map((become) => {
    const table = Object.fromEntries(inks.map((ink, place) => [ink, become[place] ?? ink]));
    return withRecipe(colourway("Any", table), () => writeCall("colourway", "Any", table));
  });
}
