import { maybe, partsOf } from "../checks.js";
import { aColourway } from "../colour/checks.js";
import { type Colourway, colourDifference, MERGE_BELOW, toOklab } from "../colour/index.js";
import type { Note } from "../errors.js";
import { inkContacts } from "./checks.js";
import type { InkContacts } from "./contacts.js";
import { BARE } from "./ink-planes.js";

/** Closer than this in CIEDE2000, two inks that touch run together at arm's length (common practice, no source). */
export const CLOSE_BELOW = 5;

/** Inks that are drawn finer than this many mm on the average are details (common practice, no source). */
const FINE_BELOW = 1;

/** Where a picture does not say its resolution, 300 dpi is taken. */
const USUAL_PER_MM = 300 / 25.4;

/** Closer than this in CIEDE2000, a fine detail is lost on what it touches (common practice, no source). */
const FAINT_BELOW = 12;

/** So many pairs are named in one note, those with the longest edges. */
const SHOWN_PAIRS = 3;

/** Lightness that differs less than this in OKLab has no order to keep: a just noticeable difference. */
const SAME_LIGHTNESS = 0.02;

/**
 * What a colourway does to inks that touch each other: `N_INKS_CLOSE`, two that come closer than 5 in CIEDE2000;
 * `N_DETAIL_FAINT`, a finely drawn ink that comes closer than 12 to what it lies on; `N_LIGHTNESS_ORDER`, one note
 * on all whose order of lightness is turned round against another colourway.
 *
 * @param options - `first`: the colourway whose order of lightness is to be kept. Default: the inks as drawn.
 * @example
 * ```ts
 * import { checkContacts, colourway, findContacts, planesOfImage } from "repetend";
 * const data = Uint8Array.from({ length: 64 }, (_, at) => (at % 8 < 4 ? 0 : 255));
 * const stripes = findContacts(planesOfImage({ width: 8, height: 8, channels: 1, data, stride: 8 }));
 * const night = colourway("Nightjar", { "#000000": "#d9a441", "#ffffff": "#1d1a26" });
 * checkContacts(stripes, night).map((note) => note.code); // ["N_LIGHTNESS_ORDER"]
 * ```
 */
export function checkContacts(
  found: InkContacts,
  colourway: Colourway,
  options: { readonly first?: Colourway } = {},
): readonly Note[] {
  inkContacts(found, "found");
  aColourway(colourway, "colourway");
  partsOf<typeof options>({ first: maybe(aColourway) })(options, "options");
  const { contacts, widths, perMm = USUAL_PER_MM } = found;
  const { name, inks } = colourway;
  const before = options.first?.inks ?? {};
  const printed = contacts.filter(({ one, other }) => one !== BARE && other !== BARE);
  const say = (level: Note["level"], code: string, where: string, message: string): Note => ({
    level,
    code,
    where,
    message: `colourway "${name}": ${message}`,
  });
  const wide = (ink: string) => (widths[ink] ?? Number.POSITIVE_INFINITY) / perMm;
  const near = printed.flatMap(({ one, other }): readonly Note[] => {
    const difference = colourDifference(inks[one] ?? one, inks[other] ?? other);
    const away = `${difference.toFixed(2)} in CIEDE2000`;
    if (difference < MERGE_BELOW) return [];
    if (difference < CLOSE_BELOW) {
      return [
        say("warning", "N_INKS_CLOSE", one, `inks ${one} and ${other} touch and are only ${away} apart`),
      ];
    }
    const [fine, ground] = wide(one) <= wide(other) ? [one, other] : [other, one];
    if (difference >= FAINT_BELOW || wide(fine) >= FINE_BELOW) return [];
    const width = `${wide(fine).toFixed(2)} mm wide`;
    const message = `ink ${fine} is finely drawn, ${width}, and only ${away} from ${ground}, which it touches`;
    return [say("warning", "N_DETAIL_FAINT", fine, message)];
  });
  const lightness = (ink: string, table: Readonly<Record<string, string>>) => toOklab(table[ink] ?? ink).l;
  const turned = printed.filter(({ one, other }) => {
    const drawn = lightness(one, before) - lightness(other, before);
    const now = lightness(one, inks) - lightness(other, inks);
    return Math.abs(drawn) > SAME_LIGHTNESS && Math.abs(now) > SAME_LIGHTNESS && drawn * now < 0;
  });
  const [longest] = turned;
  if (longest === undefined) return near;
  const against = options.first === undefined ? "the inks as drawn" : `colourway "${options.first.name}"`;
  const pairs = turned.slice(0, SHOWN_PAIRS).map(({ one, other }) => `${one} and ${other}`);
  const more = turned.length > SHOWN_PAIRS ? `, and ${turned.length - SHOWN_PAIRS} more` : "";
  const share = `${turned.length} of ${printed.length} pairs of touching inks`;
  const message = `light and dark change places against ${against} in ${share}: ${pairs.join(", ")}${more}`;
  return [...near, say("info", "N_LIGHTNESS_ORDER", longest.one, message)];
}
