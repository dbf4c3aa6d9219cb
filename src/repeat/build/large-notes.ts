import type { Note } from "../../errors.js";
import type { Placement } from "../types.js";

/** A motif this many times as large as its repeat lies over itself everywhere: a slip of a unit, more often than not. */
const LARGE = 2;

const inMm = (length: number): string => `${Number(length.toFixed(1))} mm`;

/** Motifs that are far larger than what repeats them, each once: along x, and along y where it repeats there too. */
export function largeNotes(
  motifs: readonly Placement[],
  { width, height = Number.POSITIVE_INFINITY }: { readonly width: number; readonly height?: number },
  where?: string,
): readonly Note[] {
  const large = motifs.filter(({ reach }) => reach.width > LARGE * width || reach.height > LARGE * height);
  const byName = new Map(large.map((one) => [one.motif.name, one]));
  const every = Number.isFinite(height) ? `${inMm(width)} across and ${inMm(height)} down` : inMm(width);
  return [...byName].map(
    ([name, { reach }]): Note => ({
      level: "info",
      code: "N_LARGE",
      message:
        `motif "${name}" is ${inMm(reach.width)} wide and ${inMm(reach.height)} tall, ` +
        `and repeats every ${every}: it lies over itself`,
      ...(where === undefined ? {} : { where }),
    }),
  );
}
