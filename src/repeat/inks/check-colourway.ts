import { aFlag, maybe, partsOf } from "../../checks.js";
import { aColourway } from "../../colour/checks.js";
import { checkGamut, compareInks } from "../../colour/index.js";
import type { Colourway } from "../../colour/types.js";
import type { Note } from "../../errors.js";
import { inkContacts } from "../../image/checks.js";
import { checkContacts, type InkContacts } from "../../image/index.js";
import { aPrint } from "../checks.js";
import type { Print } from "../types.js";
import { inksOf } from "./inks.js";

/** How a colourway is checked against a print. */
export interface CheckColourwayOptions {
  /** Refuses on the first thing that is wrong with the entries. Default false. */
  readonly strict?: boolean;
  /** Which inks touch, from `findContacts` on the print's ink planes; then inks that touch are looked at too. */
  readonly contacts?: InkContacts;
  /** The colourway whose order of lightness is to be kept where inks touch. Default: the inks as drawn. */
  readonly first?: Colourway;
}

const checkOptions = partsOf<CheckColourwayOptions>({
  strict: maybe(aFlag),
  contacts: maybe(inkContacts),
  first: maybe(aColourway),
});

/**
 * What is wrong between a print and a colourway: inks of the print without an entry, entries that seem meant for one of
 * these (with the CIEDE2000 difference), and inks that come closer than 1 to each other; which other entries the print
 * does not use, as in a table that several prints share (an info, not refused with `strict`); inks that were given outside sRGB, what they became and how far away that is (these are not refused with `strict`). With
 * `contacts` also: touching inks that come closer than 5, fine details that come closer than 12 to what they lie on,
 * and an order of lightness that is turned round. An empty list means that nothing is.
 *
 * @throws {@link RepetendError} `E_COLOURWAY` on the first thing wrong with the entries, with `strict`.
 * @example
 * ```ts
 * import { checkColourway, colourway, straight } from "repetend";
 * const print = straight({ name: "Plain", width: 100, height: 100, ground: "#f2ead8", motifs: [] });
 * checkColourway(print, colourway("Dusk", {})).length; // 1
 * ```
 */
export function checkColourway(
  print: Print,
  colourway: Colourway,
  options: CheckColourwayOptions = {},
): readonly Note[] {
  aPrint(print, "print");
  checkOptions(options, "options");
  const { strict = false, contacts, first } = options;
  const notes = compareInks(
    inksOf(print).map((use) => use.ink),
    colourway,
    { strict },
  );
  const all = [...notes, ...checkGamut(colourway)];
  if (contacts === undefined) return all;
  return [...all, ...checkContacts(contacts, colourway, first === undefined ? {} : { first })];
}
