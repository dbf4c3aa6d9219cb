import { labDifference } from "./lab.js";
import { pixelDifference, type Strip } from "./strip.js";

/** A place in one column of pixels where the colour changes: an outline that crosses, or a thin line. */
interface Crossing {
  /** In rows; the middle of row t is t. */
  readonly at: number;
  /** Indices of the plateau pixels on both sides. */
  readonly before: number;
  readonly after: number;
  /** The sum of the changes over the crossing. */
  readonly energy: number;
  readonly rows: number;
}

/** An outline followed from the seam inwards: its place in each column, the one at the seam first. */
export interface Contour {
  readonly places: readonly number[];
  readonly before: number;
  readonly after: number;
  readonly energy: number;
}

/** Smaller changes along the seam are shading or noise, not an outline. */
const LEAST_CHANGE = 3;

/** A crossing that takes more rows is a shading, a texture or an outline nearly parallel to the seam. */
const LONGEST_CROSSING = 8;

/** How far an outline may move from one column to the next, in rows. */
const STEEPEST = 3;

/** How different the plateaus of one outline may be from column to column. */
const SAME_PLATEAU = 8;

function findCrossings(strip: Strip, column: number): readonly Crossing[] {
  const { length } = strip;
  const stride = 2 * strip.half;
  const changes = new Float64Array(length);
  for (let t = 0; t < length; t++) {
    const next = t + 1 < length ? t + 1 : strip.cyclic ? 0 : t;
    changes[t] = pixelDifference(strip, t * stride + column, next * stride + column);
  }
  const crossings: Crossing[] = [];
  let t = 0;
  if (strip.cyclic) while (t < length && (changes[t] as number) > LEAST_CHANGE) t++;
  const end = t + length;
  while (t < (strip.cyclic ? end : length)) {
    if ((changes[t % length] as number) <= LEAST_CHANGE) {
      t++;
      continue;
    }
    const from = t;
    let [energy, moment] = [0, 0];
    while (t < end && (changes[t % length] as number) > LEAST_CHANGE) {
      const change = changes[t % length] as number;
      energy += change;
      moment += change * (t + 0.5);
      t++;
    }
    if (t - from <= LONGEST_CROSSING)
      crossings.push({
        at: moment / energy,
        before: (from % length) * stride + column,
        after: (t % length) * stride + column,
        energy,
        rows: t - from,
      });
  }
  return crossings;
}

const wrapped = (difference: number, strip: Strip): number =>
  strip.cyclic ? difference - strip.length * Math.round(difference / strip.length) : difference;

/** The outlines that cross the seam's near (side -1) or far (side 1) column, followed inwards by at most `depth` columns. */
export function followContours(strip: Strip, side: -1 | 1, depth: number): readonly Contour[] {
  const columnOf = (k: number) => (side === -1 ? strip.half - 1 - k : strip.half + k);
  const columns = Array.from({ length: depth }, (_, k) => findCrossings(strip, columnOf(k)));
  return (columns[0] ?? []).map((first) => {
    const places = [first.at];
    let [last, step] = [first, 0];
    for (const crossings of columns.slice(1)) {
      let best: Crossing | undefined;
      let nearest = STEEPEST;
      for (const one of nearBy(crossings, last.at + step, strip)) {
        const away = Math.abs(wrapped(one.at - last.at - step, strip));
        if (away > nearest || one.energy > 1.6 * last.energy || last.energy > 1.6 * one.energy) continue;
        if (labDifference(strip.lab, 4 * one.before, 4 * last.before) > SAME_PLATEAU) continue;
        if (labDifference(strip.lab, 4 * one.after, 4 * last.after) > SAME_PLATEAU) continue;
        [best, nearest] = [one, away];
      }
      if (best === undefined) break;
      const moved = wrapped(best.at - last.at, strip);
      places.push((places.at(-1) as number) + moved);
      step = places.length > 2 ? (moved + step) / 2 : moved;
      if (Math.abs(step) > STEEPEST) break;
      last = best;
    }
    return { places, before: first.before, after: first.after, energy: first.energy };
  });
}

/** The crossings within reach of a place; they are sorted by place. */
function nearBy(crossings: readonly Crossing[], at: number, strip: Strip): readonly Crossing[] {
  const near: Crossing[] = [];
  const look = (place: number) => {
    let [low, high] = [0, crossings.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((crossings[middle] as Crossing).at < place - STEEPEST) low = middle + 1;
      else high = middle;
    }
    for (let i = low; i < crossings.length && (crossings[i] as Crossing).at <= place + STEEPEST; i++)
      near.push(crossings[i] as Crossing);
  };
  look(at);
  if (strip.cyclic) {
    look(at + strip.length);
    look(at - strip.length);
  }
  return near;
}
