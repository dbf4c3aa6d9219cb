import { aFlag, maybe, partsOf } from "../checks.js";
import { inkPlanes } from "./checks.js";
import { coverageOf } from "./coverage.js";
import { BARE, type InkPlanes, type PlaneBand } from "./ink-planes.js";
import { mainInks } from "./weight-plane.js";

/** Two inks that touch each other. */
export interface InkContact {
  readonly one: string;
  readonly other: string;
  /** The length of their common edge in one repeat, in pixels. */
  readonly length: number;
}

/** Which inks touch, and how fine each is drawn. */
export interface InkContacts {
  /** The longest edge first. */
  readonly contacts: readonly InkContact[];
  /** For each ink, how wide it is drawn on the average, in pixels; infinite for one that has no edge. */
  readonly widths: Readonly<Record<string, number>>;
  /** Pixels a mm, where the planes know their resolution. */
  readonly perMm?: number;
}

/**
 * The mean length of a smooth edge for each pixel side on it, over all directions: pi / 4 (Cauchy's formula for the mean
 * projection of a curve on two axes).
 */
const EDGE = Math.PI / 4;

/** Adds up where the main inks of a row change, along it. */
function countAcross(runs: RowRuns, touch: (one: number, other: number, by: number) => void): void {
  // The row's last pixel is the left neighbour of its first one.
  let last = runs.ink(runs.to - 1);
  for (let run = runs.from; run < runs.to; run++) {
    const ink = runs.ink(run);
    if (ink !== last) touch(ink, last, 1);
    last = ink;
  }
}

/** One row of a band, by main inks. */
class RowRuns {
  readonly from: number;
  readonly to: number;
  readonly #band: PlaneBand;
  readonly #mains: Uint16Array;

  constructor(band: PlaneBand, mains: Uint16Array, row: number) {
    this.#band = band;
    this.#mains = mains;
    this.from = band.rows[row] ?? 0;
    this.to = band.rows[row + 1] ?? 0;
  }

  end(run: number): number {
    return this.#band.ends[run] as number;
  }

  ink(run: number): number {
    return this.#mains[this.#band.mixes[run] as number] as number;
  }
}

/** Adds up where two rows differ, below each other. */
function countDown(
  above: RowRuns,
  below: RowRuns,
  touch: (one: number, other: number, by: number) => void,
): void {
  let [one, other, x] = [above.from, below.from, 0];
  while (one < above.to && other < below.to) {
    const [oneEnd, otherEnd] = [above.end(one), below.end(other)];
    const end = Math.min(oneEnd, otherEnd);
    const [upper, lower] = [above.ink(one), below.ink(other)];
    if (upper !== lower) touch(upper, lower, end - x);
    if (oneEnd === end) one++;
    if (otherEnd === end) other++;
    x = end;
  }
}

/** An edge shorter than this is where a third ink's edge was taken for its own. */
const LEAST_LENGTH = 4;

/**
 * Finds which inks of planes touch each other, over the seams too, and how wide each is drawn: a strip of area A with
 * an edge of length P is 2 A / P wide. Bare cloth counts as an ink.
 *
 * @param options - `wrapY`: whether the picture goes on over its upper and lower edges; a border's does not. Default true.
 * @example
 * ```ts
 * import { findContacts, planesOfImage } from "repetend";
 * const data = Uint8Array.from({ length: 64 }, (_, at) => (at % 8 < 4 ? 0 : 255));
 * const stripes = planesOfImage({ width: 8, height: 8, channels: 1, data, stride: 8 });
 * findContacts(stripes).contacts.length; // 1
 * ```
 */
export function findContacts(planes: InkPlanes, options: { readonly wrapY?: boolean } = {}): InkContacts {
  inkPlanes(planes, "planes");
  partsOf<typeof options>({ wrapY: maybe(aFlag) })(options, "options");
  const count = planes.inks.length;
  const lengths = new Float64Array(count * count);
  const touch = (one: number, other: number, by: number): void => {
    const at = one < other ? one * count + other : other * count + one;
    lengths[at] = (lengths[at] as number) + by;
  };
  let first: RowRuns | undefined;
  let above: RowRuns | undefined;
  for (const band of planes.bands) {
    const mains = mainInks(band.table).inks;
    for (let row = 0; row < band.height; row++) {
      const runs = new RowRuns(band, mains, row);
      countAcross(runs, touch);
      if (above !== undefined) countDown(above, runs, touch);
      first ??= runs;
      above = runs;
    }
  }
  if ((options.wrapY ?? true) && above !== undefined && first !== undefined) countDown(above, first, touch);
  const contacts: InkContact[] = [];
  const edges = new Float64Array(count);
  for (const [at, sides] of lengths.entries()) {
    if (sides < LEAST_LENGTH) continue;
    const [one, other] = [Math.floor(at / count), at % count];
    const length = sides * EDGE;
    contacts.push({ one: planes.inks[one] ?? BARE, other: planes.inks[other] ?? BARE, length });
    edges[one] = (edges[one] as number) + length;
    edges[other] = (edges[other] as number) + length;
  }
  const area = planes.width * planes.height;
  const widths = coverageOf(planes).map(({ ink, share }, place): [string, number] => [
    ink,
    edges[place] === 0 ? Number.POSITIVE_INFINITY : (2 * share * area) / (edges[place] as number),
  ]);
  return {
    contacts: contacts.sort((one, other) => other.length - one.length),
    widths: Object.fromEntries(widths),
    ...(planes.dpi === undefined ? {} : { perMm: Math.sqrt(planes.dpi.x * planes.dpi.y) / 25.4 }),
  };
}
