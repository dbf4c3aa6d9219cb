import { pixelDifference, type Strip } from "../strip/strip.js";

/** A place in one column of pixels where the colour changes: an outline that crosses, or a thin line. */
interface Crossing {
  /** In rows; the middle of row t is t. */
  readonly at: number;
  /** Indices of the plateau pixels on both sides. */
  readonly before: number;
  readonly after: number;
  /** The sum of the changes over the crossing. */
  readonly energy: number;
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

/** How different the plateaus of one outline may be from column to column: thin soft lines have none of their own. */
const SAME_PLATEAU = 20;
const MOST_RATIO = 1.7;
/** The cosine of the angle between two changes of colour in Lab. */
const SAME_DIRECTION = 0.85;

function findCrossings(strip: Strip, column: number): readonly Crossing[] {
  const { length } = strip;
  const stride = 2 * strip.half;
  const changes = new Float64Array(length);
  for (let t = 0; t < length; t++) {
    const next = t + 1 < length ? t + 1 : strip.cyclic ? 0 : t;
    changes[t] = pixelDifference(strip, t * stride + column, next * stride + column);
  }
  const crossings: Crossing[] = [];
  const pixelAt = (row: number) => (row % length) * stride + column;
  let t = 0;
  if (strip.cyclic) while (t < length && (changes[t] as number) > LEAST_CHANGE) t++;
  const end = strip.cyclic ? t + length : length;
  while (t < end) {
    if (!((changes[t % length] as number) > LEAST_CHANGE)) {
      t++;
      continue;
    }
    const from = t;
    let energy = 0;
    do {
      energy += changes[t % length] as number;
      t++;
    } while (
      t < end &&
      (changes[t % length] as number) > LEAST_CHANGE &&
      // Where the change turns back, the other side of a thin line begins.
      goOn(strip, pixelAt(t - 1), pixelAt(t), pixelAt(t + 1))
    );
    if (t - from > LONGEST_CROSSING) continue;
    const [before, after] = [pixelAt(from), pixelAt(t)];
    // The area under the mixed pixels says where the outline runs, to a few hundredths of a pixel.
    let at = from + 0.5;
    for (let row = from + 1; row < t; row++) at += 1 - coverage(strip, pixelAt(row), before, after);
    crossings.push({ at, before, after, energy });
  }
  return crossings;
}

/** How much of the second plateau a mixed pixel holds: renderers mix in sRGB, so it is measured there. */
function coverage({ key }: Strip, pixel: number, before: number, after: number): number {
  let [dot, square] = [0, 0];
  for (const shift of [0, 8, 16, 24]) {
    const from = ((key[before] as number) >>> shift) & 255;
    const axis = (((key[after] as number) >>> shift) & 255) - from;
    dot += axis * ((((key[pixel] as number) >>> shift) & 255) - from);
    square += axis * axis;
  }
  return square === 0 ? 0.5 : Math.min(1, Math.max(0, dot / square));
}

/** Tells whether the colour moves on from the second pixel to the third in the direction in which it came. */
function goOn({ lab }: Strip, first: number, second: number, third: number): boolean {
  let dot = 0;
  for (let i = 0; i < 4; i++) {
    const at = lab[4 * second + i] as number;
    dot += (at - (lab[4 * first + i] as number)) * ((lab[4 * third + i] as number) - at);
  }
  return dot > 0;
}

/** Tells whether two outlines change between colours that are alike, in the same direction. */
export function isSameOutline(
  strip: Strip,
  one: Pick<Crossing, "before" | "after" | "energy">,
  other: Pick<Crossing, "before" | "after" | "energy">,
): boolean {
  if (one.energy > MOST_RATIO * other.energy || other.energy > MOST_RATIO * one.energy) return false;
  if (pixelDifference(strip, one.before, other.before) > SAME_PLATEAU) return false;
  if (pixelDifference(strip, one.after, other.after) > SAME_PLATEAU) return false;
  const { lab } = strip;
  let [dot, square, otherSquare] = [0, 0, 0];
  for (let i = 0; i < 4; i++) {
    const change = (lab[4 * one.after + i] as number) - (lab[4 * one.before + i] as number);
    const otherChange = (lab[4 * other.after + i] as number) - (lab[4 * other.before + i] as number);
    dot += change * otherChange;
    square += change * change;
    otherSquare += otherChange * otherChange;
  }
  return dot > SAME_DIRECTION * Math.sqrt(square * otherSquare);
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
        if (away > nearest || !isSameOutline(strip, one, last)) continue;
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
