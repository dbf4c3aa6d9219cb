import type { Note } from "../../errors.js";
import type { Placement } from "../types.js";

/** In mm: what overlaps by less is mixed with the ground on the pixels of most resolutions. */
const TOUCHING = 0.02;

/** Motifs that are exactly as long as what repeats them, so that each only touches the next one, each once. */
export function touchingNotes(
  motifs: readonly Placement[],
  { width, height = Number.POSITIVE_INFINITY }: { readonly width: number; readonly height?: number },
  where?: string,
): readonly Note[] {
  const touches = (length: number, period: number): boolean => Math.abs(length - period) < TOUCHING;
  const found = motifs.filter(({ reach }) => touches(reach.width, width) || touches(reach.height, height));
  return [...new Set(found.map(({ motif }) => motif.name))].map(
    (name): Note => ({
      level: "info",
      code: "N_TOUCHING",
      message:
        `motif "${name}" is exactly as long as its repeat, so that it only touches the next one, and a hairline of ` +
        "what lies below may show between them: place it some tenths of a millimetre wider",
      ...(where === undefined ? {} : { where }),
    }),
  );
}
