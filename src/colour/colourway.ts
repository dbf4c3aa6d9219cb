import { aText, tableOf } from "../checks.js";
import { RepetendError } from "../errors.js";
import { measureGamut } from "./gamut.js";
import { readColour } from "./read.js";
import type { Colourway } from "./types.js";

/** A name that would not fit on a spec sheet's line. */
const LONGEST_NAME = 200;

/** One entry of a colourway as it was written, and where. */
export interface ColourwayEntry {
  readonly ink: string;
  readonly to: string;
  /** Where the ink and what it becomes stand, for errors. */
  readonly inkAt: string;
  readonly toAt: string;
}

/**
 * A colourway: what each ink of the artwork becomes. Inks that it does not name stay as drawn.
 *
 * @param name - What the colourway is called: 1 to 200 characters after trimming, no control characters.
 * @param inks - From ink to ink, any opaque colours of CSS Color 4 on both sides. What lies outside sRGB is mapped into it
 * and kept as it was given in `given`, so that `checkColourway` can say so.
 * @throws {@link RepetendError} `E_COLOUR` for a colour that cannot be read; `E_COLOURWAY` for a name that cannot be used, a
 * colour that is not opaque, and for one ink (in two spellings) that is to become two.
 * @example
 * ```ts
 * import { colourway } from "repetend";
 * colourway("Dusk", { "#F2EAD8": "#1b2a41", seagreen: "rgb(90 60 30)" }).inks;
 * // { "#f2ead8": "#1b2a41", "#2e8b57": "#5a3c1e" }
 * ```
 */
export function colourway(name: string, inks: Readonly<Record<string, string>>): Colourway {
  tableOf(aText)(inks, "inks");
  const entries = Object.entries(inks).map(([ink, to]) => {
    const where = `inks[${JSON.stringify(ink)}]`;
    return { ink, to, inkAt: where, toAt: where };
  });
  return collectColourway(readName(name, undefined), entries);
}

/** A colourway's name as it is kept: trimmed and composed (Unicode NFC), so that one name has one spelling. */
export function readName(name: string, where: string | undefined): string {
  const trimmed = typeof name === "string" ? name.normalize("NFC").trim() : "";
  if (trimmed !== "" && trimmed.length <= LONGEST_NAME && !/\p{Cc}/u.test(trimmed)) return trimmed;
  throw new RepetendError("E_COLOURWAY", "a colourway has no usable name", {
    ...(where === undefined ? {} : { where }),
    value: String(name),
    accepted: `1 to ${LONGEST_NAME} characters, no control characters`,
  });
}

/** Reads the entries of a colourway whose name is already read. */
export function collectColourway(name: string, entries: readonly ColourwayEntry[]): Colourway {
  const inks = new Map<string, string>();
  const given = new Map<string, string>();
  for (const entry of entries) {
    const ink = readSolid(entry.ink, entry.inkAt, name);
    const to = readSolid(entry.to, entry.toAt, name);
    const known = inks.get(ink);
    if (known !== undefined && known !== to) {
      throw new RepetendError("E_COLOURWAY", `one ink of colourway "${name}" is to become two`, {
        where: entry.toAt,
        value: `${ink} to ${known} and ${to}`,
        accepted: "one entry an ink",
      });
    }
    inks.set(ink, to);
    if (measureGamut(entry.to) !== undefined) given.set(ink, entry.to.trim());
  }
  const wide = given.size === 0 ? {} : { given: Object.fromEntries(given) };
  return { kind: "colourway", name, inks: Object.fromEntries(inks), ...wide };
}

function readSolid(text: string, where: string, name: string): string {
  const { hex, alpha } = readColour(text, where);
  if (alpha === 1) return hex;
  throw new RepetendError("E_COLOURWAY", `colourway "${name}" names a colour that is not opaque`, {
    where,
    value: text,
    accepted: "opaque colours",
  });
}
