/** How a print closes round a sweep. Lengths in mm. */
export interface Sweep {
  readonly piece: string;
  /** Finished length round the sweep. */
  readonly around: number;
  /** Whole repeats that go round. */
  readonly repeats: number;
  /** Cloth that goes round: `repeats` times the repeat. */
  readonly cloth: number;
  /** Cloth for one length of the sweep: 1 is smooth. */
  readonly gather: number;
  /** What the print is scaled by: 1 is as drawn. */
  readonly scale: number;
}

/** Rounding, as a share of a repeat: a sweep of 8.0000001 repeats has 8. */
const WHOLE = 1e-6;

/**
 * The whole number of repeats with which a print closes round a sweep: by gathering, the next whole number up, so that
 * cloth is left to gather and never missing; by scale, the nearest.
 */
export function closeSweep(piece: string, around: number, repeat: number, by: "gather" | "scale"): Sweep {
  const exact = around / repeat;
  const repeats = Math.max(1, by === "gather" ? Math.ceil(exact - WHOLE) : Math.round(exact));
  const drawn = repeats * repeat;
  return by === "gather"
    ? { piece, around, repeats, cloth: drawn, gather: drawn / around, scale: 1 }
    : { piece, around, repeats, cloth: around, gather: 1, scale: around / drawn };
}
