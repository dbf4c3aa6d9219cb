import { type Colourway, colourDifference, MERGE_BELOW, toOklab } from "../colour/index.js";
import type { Note } from "../errors.js";
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

/** Lightness that differs less than this in OKLab has no order to keep: a just noticeable difference. */
const SAME_LIGHTNESS = 0.02;

/**
 * What a colourway does to inks that touch each other: `N_INKS_CLOSE`, two that come closer than 5 in CIEDE2000;
 * `N_DETAIL_FAINT`, a finely drawn ink that comes closer than 12 to what it lies on; `N_LIGHTNESS_ORDER`, two whose
 * order of lightness is turned round against another colourway.
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
  { contacts, widths, perMm = USUAL_PER_MM }: InkContacts,
  colourway: Colourway,
  options: { readonly first?: Colourway } = {},
): readonly Note[] {
  const { name, inks } = colourway;
  const first = options.first?.inks ?? {};
  return contacts.flatMap(({ one, other }): readonly Note[] => {
    if (one === BARE || other === BARE) return [];
    const [here, there] = [inks[one] ?? one, inks[other] ?? other];
    const difference = colourDifference(here, there);
    const say = (level: Note["level"], code: string, message: string): Note => ({
      level,
      code,
      where: one,
      message: `colourway "${name}": ${message}`,
    });
    const away = `${difference.toFixed(2)} in CIEDE2000`;
    const wide = (ink: string) => (widths[ink] ?? Number.POSITIVE_INFINITY) / perMm;
    const [fine] = [one, other]
      .filter((ink) => wide(ink) < FINE_BELOW)
      .sort((thin, thick) => wide(thin) - wide(thick));
    const notes: Note[] = [];
    if (difference >= MERGE_BELOW && difference < CLOSE_BELOW) {
      notes.push(say("warning", "N_INKS_CLOSE", `inks ${one} and ${other} touch and are only ${away} apart`));
    } else if (difference >= CLOSE_BELOW && difference < FAINT_BELOW && fine !== undefined) {
      const ground = fine === one ? other : one;
      const width = `${wide(fine).toFixed(2)} mm wide`;
      notes.push(
        say(
          "warning",
          "N_DETAIL_FAINT",
          `ink ${fine} is finely drawn, ${width}, and only ${away} from ${ground}, which it touches`,
        ),
      );
    }
    const drawn = toOklab(first[one] ?? one).l - toOklab(first[other] ?? other).l;
    const now = toOklab(here).l - toOklab(there).l;
    if (Math.abs(drawn) > SAME_LIGHTNESS && Math.abs(now) > SAME_LIGHTNESS && drawn * now < 0) {
      const [light, dark] = drawn > 0 ? [one, other] : [other, one];
      const against = options.first === undefined ? "as drawn" : `in "${options.first.name}"`;
      notes.push(
        say("info", "N_LIGHTNESS_ORDER", `ink ${light} is lighter than ${dark} ${against}, and darker here`),
      );
    }
    return notes;
  });
}
