import { type Fill, fillOf, isInside } from "../../motif/covered.js";
import type { Silhouette } from "../../motif/silhouette.js";

/** The levels between which a drawing shows, in the units of its silhouette: what a band cuts off is not there. */
export interface Cut {
  readonly top: number;
  readonly bottom: number;
}

/** A cut edge runs along the level; inside of it is judged so much of the shown height further in. */
const JUST_INSIDE = 1e-6;

/**
 * What is left of a silhouette between two levels, with the edges that the cuts leave. Lines that are painted around
 * count as far as their middle may show from, so a cut stroke as up to its own width more.
 */
export function cutSilhouette({ segments, fills, marks }: Silhouette, cut: Cut): Silhouette {
  const kept: number[] = [];
  for (let k = 0; k < segments.length; k += 5) {
    const [x0, y0, x1, y1] = lineAt(segments, k);
    const around = segments[k + 4] as number;
    const [from, to] = shownPart(y0, y1, cut.top - around, cut.bottom + around);
    if (from > to) continue;
    const at = (t: number) => [x0 + (x1 - x0) * t, y0 + (y1 - y0) * t] as const;
    kept.push(...at(from), ...at(to), around);
  }
  const shown = fills
    .filter((fill) => fill.bottom > cut.top && fill.top < cut.bottom)
    .map((fill) => cutFill(fill, cut));
  const inside = JUST_INSIDE * (cut.bottom - cut.top);
  for (const fill of fills) {
    for (const [level, looked] of [
      [cut.top, cut.top + inside],
      [cut.bottom, cut.bottom - inside],
    ] as const) {
      for (const [left, right] of edgesAt(fill, looked)) kept.push(left, level, right, level, 0);
    }
  }
  return { segments: Float64Array.from(kept), fills: shown, marks: marksOf(marks, cut, shown) };
}

type Line = readonly [number, number, number, number];

const lineAt = (numbers: Float64Array, k: number): Line => [
  numbers[k] as number,
  numbers[k + 1] as number,
  numbers[k + 2] as number,
  numbers[k + 3] as number,
];

/** Which part of a line lies between two levels, from 0 to 1; the first above the second where none does. */
function shownPart(y0: number, y1: number, top: number, bottom: number): readonly [number, number] {
  if (y0 === y1) return y0 >= top && y0 <= bottom ? [0, 1] : [1, 0];
  const [atTop, atBottom] = [(top - y0) / (y1 - y0), (bottom - y0) / (y1 - y0)];
  return [Math.max(0, Math.min(atTop, atBottom)), Math.min(1, Math.max(atTop, atBottom))];
}

/** From where to where a filled shape is painted along a level. */
function edgesAt(fill: Fill, level: number): readonly (readonly [number, number])[] {
  if (!(level > fill.top && level < fill.bottom)) return [];
  const crossings: number[] = [];
  for (const ring of fill.rings) {
    for (let k = 0; k + 3 < ring.length; k += 2) {
      const [x0, y0, x1, y1] = lineAt(ring, k);
      if (y0 <= level !== y1 <= level) crossings.push(x0 + ((level - y0) / (y1 - y0)) * (x1 - x0));
    }
  }
  crossings.sort((one, other) => one - other);
  return crossings.flatMap((left, k): readonly (readonly [number, number])[] => {
    const right = crossings[k + 1];
    return right !== undefined && isInside(fill, (left + right) / 2, level) ? [[left, right]] : [];
  });
}

/** A filled shape between two levels: its rings go along them (I. Sutherland and G. Hodgman 1974, from memory). */
function cutFill({ rings, evenOdd }: Fill, { top, bottom }: Cut): Fill {
  const shown = rings
    .map((ring) =>
      cutRing(
        cutRing(ring, (y) => y - top),
        (y) => bottom - y,
      ),
    )
    .filter((ring) => ring.length > 0);
  return fillOf(shown, evenOdd);
}

/** The part of a closed ring where a level's distance is not below 0. */
function cutRing(ring: Float64Array, inside: (y: number) => number): Float64Array {
  const kept: number[] = [];
  for (let k = 0; k + 3 < ring.length; k += 2) {
    const [x0, y0, x1, y1] = lineAt(ring, k);
    const [here, next] = [inside(y0), inside(y1)];
    if (here >= 0) kept.push(x0, y0);
    if (here >= 0 !== next >= 0) {
      const t = here / (here - next);
      kept.push(x0 + (x1 - x0) * t, y0 + (y1 - y0) * t);
    }
  }
  if (kept.length > 0) kept.push(kept[0] as number, kept[1] as number);
  return Float64Array.from(kept);
}

/** A point of each part that shows: those that stood for a run, and one of each ring that is left. */
function marksOf(marks: Float64Array, { top, bottom }: Cut, fills: readonly Fill[]): Float64Array {
  const kept: number[] = [];
  for (let k = 0; k < marks.length; k += 2) {
    const y = marks[k + 1] as number;
    if (y >= top && y <= bottom) kept.push(marks[k] as number, y);
  }
  for (const { rings } of fills) for (const ring of rings) kept.push(ring[0] as number, ring[1] as number);
  return Float64Array.from(kept);
}
