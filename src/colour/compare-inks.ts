import { aFlag, aText, maybe, partsOf } from "../checks.js";
import { type Note, RepetendError } from "../errors.js";
import { aColourway, someInks } from "./checks.js";
import { hexDifference } from "./difference.js";
import { measureGamut } from "./gamut.js";
import { readInk } from "./read.js";
import type { Colourway } from "./types.js";

/** Closer than this in CIEDE2000, two inks side by side look like one to a trained eye. */
export const MERGE_BELOW = 1;

/** An ink and how far it is away in CIEDE2000. */
export interface NearInk {
  readonly ink: string;
  readonly difference: number;
}

/** The nearest of some inks to an ink; the first one where two are equally near, `undefined` of none. */
export function nearestInk(ink: string, inks: readonly string[]): NearInk | undefined {
  aText(ink, "ink");
  someInks(inks, "inks");
  let nearest: NearInk | undefined;
  for (const candidate of inks) {
    const difference = hexDifference(ink, candidate);
    if (nearest === undefined || difference < nearest.difference) nearest = { ink: candidate, difference };
  }
  return nearest;
}

/**
 * What is wrong between the inks of a print and a colourway, as warnings:
 * `N_INK_MISSING`, an ink without an entry; `N_INK_UNKNOWN`, an entry for an ink that the print lacks where the nearest
 * ink that it has is missing, and so a slip of the pen, with the difference; `N_INKS_MERGE`, two inks of the print that come
 * closer than 1 in CIEDE2000 to each other. Each note's `where` is the ink. Other entries for inks that the print lacks are
 * no fault, since one table may serve all prints of a collection: one `N_INK_UNUSED`, an info and the same for each
 * colourway of a table, names them all. An empty list means that nothing is wrong and nothing left over.
 *
 * @param inks - The inks of the print, any opaque CSS colours.
 * @param options - `strict`: refuse on the first warning instead.
 * @throws {@link RepetendError} `E_COLOUR` for an ink that cannot be read; with `strict`, `E_COLOURWAY`.
 * @example
 * ```ts
 * import { colourway, compareInks } from "repetend";
 * compareInks(["#f2ead8", "#1b2a41"], colourway("Dusk", { "#f2ead8": "#101820" }))[0]?.code; // "N_INK_MISSING"
 * ```
 */
export function compareInks(
  inks: readonly string[],
  colourway: Colourway,
  options: { readonly strict?: boolean } = {},
): readonly Note[] {
  someInks(inks, "inks");
  aColourway(colourway, "colourway");
  partsOf<typeof options>({ strict: maybe(aFlag) })(options, "options");
  const drawn = [...new Set(inks.map((ink) => readInk(ink)))];
  const faults = [
    ...findMissing(drawn, colourway),
    ...findUnknown(drawn, colourway),
    ...findMerging(drawn, colourway),
  ];
  const [first] = faults;
  if (options.strict === true && first !== undefined) {
    throw new RepetendError("E_COLOURWAY", first.message, {
      ...(first.where === undefined ? {} : { where: first.where }),
      accepted: "an entry for each ink of the print, and inks that stay apart",
    });
  }
  return [...faults, ...noteUnused(drawn, colourway)];
}

/**
 * The inks of a colourway that were given outside sRGB: `N_OUT_OF_GAMUT`, a warning an ink, with what was given, what it
 * became and how far that is away. A cloth may print the colour itself; what is made from the colourway shows another.
 *
 * @example
 * ```ts
 * import { checkGamut, colourway } from "repetend";
 * checkGamut(colourway("Neon", { "#1b2a41": "color(display-p3 0 1 0)" }))[0]?.where; // "#1b2a41"
 * ```
 */
export function checkGamut(colourway: Colourway): readonly Note[] {
  aColourway(colourway, "colourway");
  const { name, given = {} } = colourway;
  return Object.entries(given).flatMap(([ink, text]) => {
    const move = measureGamut(text);
    if (move === undefined) return [];
    const became = `ink ${ink} became ${move.hex}, ${write(move.difference)} away`;
    return [warn("N_OUT_OF_GAMUT", ink, `colourway "${name}" gives ${text}, outside sRGB: ${became}`)];
  });
}

const warn = (code: string, where: string, message: string): Note => ({
  level: "warning",
  code,
  message,
  where,
});

function findMissing(drawn: readonly string[], { name, inks }: Colourway): readonly Note[] {
  return drawn
    .filter((ink) => !Object.hasOwn(inks, ink))
    .map((ink) =>
      warn("N_INK_MISSING", ink, `colourway "${name}" has no entry for ink ${ink}, which stays as drawn`),
    );
}

/** The entries for inks that the print lacks, each with the nearest ink of the print. */
function lacking(drawn: readonly string[], { inks }: Colourway): readonly (readonly [string, NearInk?])[] {
  return Object.keys(inks)
    .filter((ink) => !drawn.includes(ink))
    .map((ink) => {
      const near = nearestInk(ink, drawn);
      return near === undefined ? [ink] : [ink, near];
    });
}

/** Whether an entry is likely meant for its nearest ink, which has none of its own. */
const isSlip = (near: NearInk | undefined, { inks }: Colourway): near is NearInk =>
  near !== undefined && !Object.hasOwn(inks, near.ink);

function findUnknown(drawn: readonly string[], colourway: Colourway): readonly Note[] {
  return lacking(drawn, colourway).flatMap(([ink, near]) => {
    if (!isSlip(near, colourway)) return [];
    const lacks = `colourway "${colourway.name}" names ink ${ink}, which the print lacks`;
    const message = `${lacks}: nearest is ${near.ink}, ${write(near.difference)} away`;
    return [warn("N_INK_UNKNOWN", ink, message)];
  });
}

/** Names no colourway, so that those of one table say the same and are told once. */
function noteUnused(drawn: readonly string[], colourway: Colourway): readonly Note[] {
  const unused = lacking(drawn, colourway).flatMap(([ink, near]) => (isSlip(near, colourway) ? [] : [ink]));
  const [where] = unused;
  if (where === undefined) return [];
  const message = `the table of colourways also names ${unused.join(", ")}, which this print does not use`;
  return [{ level: "info", code: "N_INK_UNUSED", message, where }];
}

function findMerging(drawn: readonly string[], { name, inks }: Colourway): readonly Note[] {
  const notes: Note[] = [];
  for (const [index, one] of drawn.entries()) {
    for (const other of drawn.slice(index + 1)) {
      const [first, second] = [inks[one] ?? one, inks[other] ?? other];
      const difference = hexDifference(first, second);
      if (difference >= MERGE_BELOW) continue;
      const become =
        first === second
          ? `both become ${first}`
          : `become ${first} and ${second}, ${write(difference)} apart`;
      notes.push(
        warn(
          "N_INKS_MERGE",
          one,
          `inks ${one} and ${other} run into one in colourway "${name}": they ${become}`,
        ),
      );
    }
  }
  return notes;
}

/** Two decimals are what the eye and any instrument can follow. */
const write = (difference: number): string => `${difference.toFixed(2)} in CIEDE2000`;
