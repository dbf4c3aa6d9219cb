import fc from "fast-check";
import { ciede2000, type Lab, toLab } from "../colour/index.js";
import { RepetendError } from "../errors.js";
import { readNumber } from "./bounds.js";
import { palettesOptions } from "./checks.js";

/** What {@link palettes} draws. */
export interface PalettesOptions {
  /** How many inks, 1 to 64. A range has both ends inclusive. Default 2 to 8. */
  readonly count?: number | { readonly min: number; readonly max: number };
  /** The least CIEDE2000 between any two inks, inclusive, 0 to 100. Default 10. */
  readonly apart?: number;
}

interface Candidate {
  readonly ink: string;
  readonly lab: Lab;
}

/** Six levels a channel: 216 colours, evenly over sRGB. */
const LEVELS = [0, 51, 102, 153, 204, 255];

const byte = (level: number): string => level.toString(16).padStart(2, "0");

const listCandidates = (): readonly Candidate[] =>
  LEVELS.flatMap((r) => LEVELS.flatMap((g) => LEVELS.map((b) => `#${byte(r)}${byte(g)}${byte(b)}`))).map(
    (ink) => ({ ink, lab: toLab(ink) }),
  );

/** From black on, each time the colour that is furthest from all before it, while it keeps the distance. */
function spreadOut(candidates: readonly Candidate[], most: number, apart: number): readonly Candidate[] {
  const chosen: Candidate[] = [];
  const distances = candidates.map(() => Number.POSITIVE_INFINITY);
  for (let next = 0; chosen.length < most; next = distances.indexOf(Math.max(...distances))) {
    const one = candidates[next];
    if (one === undefined || (distances[next] ?? 0) < apart || (distances[next] ?? 0) === 0) break;
    chosen.push(one);
    for (const [at, other] of candidates.entries()) {
      distances[at] = Math.min(distances[at] ?? 0, ciede2000(one.lab, other.lab));
    }
  }
  return chosen;
}

/** Inks picked one by one from what the ones before it leave; `undefined` where they leave too little. */
function pick(
  candidates: readonly Candidate[],
  picks: readonly number[],
  apart: number,
): readonly string[] | undefined {
  let left = candidates;
  const inks: string[] = [];
  for (const place of picks) {
    const chosen = left[place % left.length];
    if (chosen === undefined) return undefined;
    inks.push(chosen.ink);
    left = left.filter((one) => one !== chosen && ciede2000(one.lab, chosen.lab) >= apart);
  }
  return inks;
}

/**
 * Palettes: inks as `#rrggbb`, no two closer than a stated difference. Shrinks to few inks: black, then each time the
 * one that is furthest from those before it.
 *
 * @throws `RepetendError` `E_NUMBER` for an option out of range, and where so many inks cannot lie so far apart.
 * @example
 * ```ts
 * import fc from "fast-check";
 * import { colourDifference } from "repetend";
 * import { palettes } from "repetend/testing";
 * fc.assert(fc.property(palettes({ count: 2, apart: 20 }), ([one, other]) => colourDifference(one ?? "", other ?? "") >= 20));
 * ```
 */
export function palettes(options: PalettesOptions = {}): fc.Arbitrary<readonly string[]> {
  palettesOptions(options, "options");
  const { count = { min: 2, max: 8 } } = options;
  const asked = typeof count === "number" ? { min: count, max: count } : count;
  const max = readNumber("count", asked.max, { atLeast: 1, atMost: 64, whole: true });
  const min = readNumber("count", asked.min, { atLeast: 1, atMost: max, whole: true });
  const apart = readNumber("apart", options.apart ?? 10, { atLeast: 0, atMost: 100 });
  const candidates = listCandidates();
  const furthest = spreadOut(candidates, max, apart);
  if (furthest.length < max) {
    throw new RepetendError("E_NUMBER", "so many inks cannot lie so far apart", {
      where: "count",
      value: `${max} inks, ${apart} apart`,
      accepted: `at most ${furthest.length} inks at this distance`,
    });
  }
  const ordered = [...furthest, ...candidates.filter((one) => !furthest.includes(one))];
  return fc
    .array(fc.nat(ordered.length - 1), { minLength: min, maxLength: max, size: "max" })
    .map(
      (picks) =>
        pick(ordered, picks, apart) ?? furthest.slice(0, picks.length).map((candidate) => candidate.ink),
    );
}
