import type { RepeatCandidate, RepeatEstimate } from "./estimate.js";
import type { Shift } from "./lattice.js";
import type { FoundLayout, RepeatReading } from "./layout.js";

/** An estimate before it is given in mm and put into words. */
export interface Answer {
  readonly found: RepeatEstimate["found"];
  readonly layout: FoundLayout;
  readonly width?: number;
  readonly height?: number;
  readonly repeats: RepeatEstimate["repeats"];
  readonly confidence: number;
  readonly sameAs?: readonly RepeatReading[];
  readonly shifts?: readonly Shift[];
  readonly candidates?: readonly RepeatCandidate[];
}

/** Below this likeness a picture does not repeat; at `CERTAIN` it repeats beyond doubt. */
export const DOUBTFUL = 0.45;
const CERTAIN = 0.9;

/** Likeness as confidence: 0 where doubtful, 1 where certain. */
export function sureness(likeness: number): number {
  return Math.max(0, Math.min(1, (likeness - DOUBTFUL) / (CERTAIN - DOUBTFUL)));
}
