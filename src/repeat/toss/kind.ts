import { RepetendError } from "../../errors.js";
import { type Affine, translation } from "../../geometry/affine.js";
import { isInside } from "../../motif/covered.js";
import { type Silhouette, takeSilhouette } from "../../motif/silhouette.js";
import type { Motif } from "../../motif/types.js";
import { type Cut, cutSilhouette } from "./cut.js";
import { type DistanceGrid, distanceAt, measureDistances } from "./distance-grid.js";
import { cosineAndSine } from "./turns.js";

/** A motif as it is tossed: its silhouette about its own middle, and what is quick to ask of it. User units. */
export interface Kind {
  readonly motif: Motif;
  /** The middle of what it covers, in the motif's units: it is turned about this. */
  readonly middle: readonly [number, number];
  readonly silhouette: Silhouette;
  /** From the middle to the farthest painted point. */
  readonly radius: number;
  /** What it covers. */
  readonly area: number;
  /** What it covers with half a gap around. */
  readonly footprint: number;
  readonly distances: DistanceGrid;
  /**
   * Points of its outline, four numbers each: x, y, how far around is painted, and by how much that place may be nearer
   * to anything at the next point than it is here.
   */
  readonly samples: Float64Array;
}

/** How closely a kind is looked at, in the motif's units. */
export interface KindLook {
  readonly tolerance: number;
  /** How far around its distances are wanted. */
  readonly margin: number;
  readonly gap: number;
  /** Baked into the silhouette, for placements that are stretched. */
  readonly map: Affine;
  /** Between which levels it shows, under the map. Default: it shows as a whole. */
  readonly cut?: Cut | undefined;
}

/** Points along the longer side of the grid of distances. */
const GRID_POINTS = 112;
/** The same for what it covers. */
const AREA_POINTS = 80;
/** Points of the outline, at most about. */
const MOST_SAMPLES = 150;

/** Each line may be held against each of a neighbour's. */
const MOST_LINES = 8_000;

/** Looks at a motif; `undefined` when it paints nothing. */
export function lookAtKind(motif: Motif, look: KindLook): Kind | undefined {
  const raw = takeShown(motif, look, 0, 0).segments;
  if (raw.length === 0) return undefined;
  if (raw.length > MOST_LINES * 5) {
    throw new RepetendError("E_LIMIT", "a motif has too many separate shapes to be tossed by its outlines", {
      input: motif.name,
      value: `${raw.length / 5} lines`,
      accepted: `at most ${MOST_LINES} lines: a simpler drawing`,
    });
  }
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let k = 0; k < raw.length; k += 5) {
    for (let end = k; end < k + 4; end += 2) {
      left = Math.min(left, raw[end] as number);
      right = Math.max(right, raw[end] as number);
      top = Math.min(top, raw[end + 1] as number);
      bottom = Math.max(bottom, raw[end + 1] as number);
    }
  }
  const middle = [(left + right) / 2, (top + bottom) / 2] as const;
  const silhouette = takeShown(motif, look, ...middle);
  const { segments } = silhouette;
  let radius = 0;
  for (let k = 0; k < segments.length; k += 5) {
    for (let end = k; end < k + 4; end += 2) {
      const [x, y] = [segments[end] as number, segments[end + 1] as number];
      radius = Math.max(radius, Math.sqrt(x * x + y * y) + (segments[k + 4] as number));
    }
  }
  if (!(radius > 0)) return undefined;
  const distances = measureDistances(silhouette, look.margin, GRID_POINTS);
  // The grid that reaches out is coarse for a small motif.
  const close = measureDistances(silhouette, 0, AREA_POINTS);
  const share = ({ values, step }: DistanceGrid, below: number) =>
    values.filter((value) => value < below).length * step * step;
  return {
    motif,
    middle,
    silhouette,
    radius,
    area: share(close, 0),
    footprint: share(distances, look.gap / 2),
    distances,
    samples: sampleOutline(silhouette, distances, look.gap),
  };
}

/** What shows of a motif, about (x, y). */
function takeShown(motif: Motif, { map, tolerance, cut }: KindLook, x: number, y: number): Silhouette {
  const whole = takeSilhouette(motif, { ...map, e: map.e - x, f: map.f - y }, tolerance);
  return cut === undefined ? whole : cutSilhouette(whole, { top: cut.top - y, bottom: cut.bottom - y });
}

/** The motif's units to its own middle. */
export const fromMiddle = ({ middle }: Kind): Affine => translation(-middle[0], -middle[1]);

/** Points along the outline, none nearer to another than it must be; tips, the farthest out, are taken first. */
function sampleOutline({ segments, fills }: Silhouette, distances: DistanceGrid, gap: number): Float64Array {
  const lengthOf = (k: number) => {
    const dx = (segments[k + 2] as number) - (segments[k] as number);
    const dy = (segments[k + 3] as number) - (segments[k + 1] as number);
    return Math.sqrt(dx * dx + dy * dy);
  };
  const found: Sample[] = [];
  for (let k = 0; k < segments.length; k += 5) {
    const pieces = Math.max(1, Math.ceil((3 * lengthOf(k)) / gap));
    for (let piece = 0; piece <= pieces; piece += 1) {
      const t = piece / pieces;
      found.push([
        (segments[k] as number) * (1 - t) + (segments[k + 2] as number) * t,
        (segments[k + 1] as number) * (1 - t) + (segments[k + 3] as number) * t,
        segments[k + 4] as number,
      ]);
    }
  }
  const out = ([x, y, r]: Sample) => Math.sqrt(x * x + y * y) + r;
  found.sort((one, other) => out(other) - out(one));
  let apart = gap / 5;
  let kept = thinOut(found, apart, distances, gap);
  while (kept.length > MOST_SAMPLES) {
    apart *= 1.3;
    kept = thinOut(kept, apart, undefined, gap);
  }
  // A few points inside notice a small motif that lies wholly within.
  const inside = kept
    .map(([x, y]) => [x / 2, y / 2, 0] as const)
    .filter((one, index) => index % 8 === 0 && fills.some((fill) => isInside(fill, one[0], one[1])));
  return Float64Array.from(chain([...kept, ...inside]).flat());
}

/** The points in an order in which each is near to the one before, with what the way to the next may change. */
function chain(samples: readonly Sample[]): readonly (readonly number[])[] {
  const open = [...samples];
  const ordered: Sample[] = [];
  const way = (one: Sample, other: Sample) => Math.sqrt(squared(one, other)) + Math.abs(one[2] - other[2]);
  for (let last = open.shift(); last !== undefined; ) {
    ordered.push(last);
    let [nearest, at] = [Infinity, -1];
    for (const [index, one] of open.entries()) {
      const length = way(last, one);
      if (length < nearest) [nearest, at] = [length, index];
    }
    last = at < 0 ? undefined : open.splice(at, 1)[0];
  }
  return ordered.map((one, k) => [...one, way(one, ordered[k + 1] ?? one)]);
}

type Sample = readonly [number, number, number];

function squared(one: Sample, other: Sample): number {
  const [dx, dy] = [one[0] - other[0], one[1] - other[1]];
  return dx * dx + dy * dy;
}

/** Leaves out points that are near to one that is kept, and those in folds that nothing comes into. */
function thinOut(
  samples: readonly Sample[],
  apart: number,
  distances: DistanceGrid | undefined,
  gap: number,
): readonly Sample[] {
  const kept: Sample[] = [];
  for (const one of samples) {
    const isNew = kept.every((other) => squared(one, other) > apart * apart);
    if (isNew && (distances === undefined || isOpen(one, distances, gap))) kept.push(one);
  }
  return kept;
}

/** Whether a disc of somewhat more than a gap across can touch the outline here, from one of 16 sides. */
function isOpen([x, y, r]: Sample, distances: DistanceGrid, gap: number): boolean {
  const radius = OPEN * gap;
  for (let side = 0; side < 16; side += 1) {
    const [cosine, sine] = cosineAndSine(side * 22.5);
    const away = distanceAt(distances, x + cosine * (r + radius), y + sine * (r + radius));
    if (away > radius - distances.step / 2) return true;
  }
  return false;
}

const OPEN = 0.6;
