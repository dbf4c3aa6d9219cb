import type { OpenPiece } from "../steps/open-pieces.js";
import { pixelDifference, type Strip } from "../strip/strip.js";
import type { Stretch } from "../types.js";
import { type Contour, followContours } from "./contours.js";

/** An outline that runs up to the seam, beyond which there is nothing but one even colour. */
export interface DeadEnd {
  /** The rows between the outline and its next one, which step at the seam. */
  readonly px: Stretch;
  readonly worst: number;
  /** How many of these rows step exactly at the seam, with no line that lies on it. */
  readonly stepped: number;
  /** Rows a column, inwards. */
  readonly slope: number;
  /** How many columns beyond the seam the shape would close by itself, were its sides to go on. */
  readonly depth: number;
}

/** Columns in which outlines are followed. */
const COLUMNS = 10;
const FEWEST_COLUMNS = 6;

/** Columns beyond the seam that must be even where an outline ends. */
const EVEN_COLUMNS = 3;

/** Rows to both sides of the outline that must be even there, besides its slope. */
const EVEN_ROWS = 2;

/** Steeper outlines nearly follow the seam: a small error of place hides that they pass. */
const STEEPEST = 2;

const LEAST_STEP = 3;

/** The column in which the width of a shape is compared with that at the seam. */
const DEEPER = 3;

const WIDEST = 400;

const indexOf = (strip: Strip, t: number, column: number): number =>
  (((t % strip.length) + strip.length) % strip.length) * 2 * strip.half + column;

/** How many rows around `t` differ from a plateau in one column, without a break. */
function rowsUnlike(strip: Strip, t: number, column: number, plateau: number): Stretch {
  const differs = (row: number) =>
    (strip.cyclic || (row >= 0 && row < strip.length)) &&
    pixelDifference(strip, indexOf(strip, row, column), plateau) > strip.plateau;
  if (!differs(t)) return { from: t, to: t };
  let [from, to] = [t, t + 1];
  while (t - from < WIDEST && differs(from - 1)) from--;
  while (to - t < WIDEST && differs(to)) to++;
  return { from, to };
}

/** Slope by least squares over the columns from `first` on. */
function slopeOf({ places }: Contour, first: number, last: number): number {
  let [n, sx, sxx, sy, sxy] = [0, 0, 0, 0, 0];
  for (let k = first; k < Math.min(last, places.length); k++) {
    const y = places[k] as number;
    n++;
    sx += k;
    sxx += k * k;
    sy += y;
    sxy += k * y;
  }
  const spread = n * sxx - sx * sx;
  return spread === 0 ? 0 : (n * sxy - sx * sy) / spread;
}

/** Rows from an outline inwards in which a sharp end must show. */
const SHARP_ROWS = 8;

/** A shape that merely touches the seam with soft edges has mixed pixels all along the column next to it; a cut one has not. */
function isSharp(strip: Strip, px: Stretch, inside: number, column: number, next: number): boolean {
  for (let k = -SHARP_ROWS; k <= SHARP_ROWS; k++) {
    const t = inside + k;
    if (t < px.from || t >= px.to) continue;
    if (pixelDifference(strip, indexOf(strip, t, column), indexOf(strip, t, next)) <= strip.plateau)
      return true;
  }
  return false;
}

/** How many rows of a stretch step at the seam, other than where a line lies on it. */
function countSteps({ length }: Strip, pieces: readonly OpenPiece[], { from, to }: Stretch): number {
  let rows = 0;
  for (const piece of pieces) {
    if (piece.explained === "line") continue;
    for (const turn of [-length, 0, length])
      rows += Math.max(0, Math.min(to, piece.to + turn) - Math.max(from, piece.from + turn));
  }
  return rows;
}

function endOf(
  strip: Strip,
  pieces: readonly OpenPiece[],
  contour: Contour,
  side: -1 | 1,
): DeadEnd | undefined {
  const { half, length, cyclic } = strip;
  const own = (k: number) => (side === -1 ? half - 1 - k : half + k);
  const other = (k: number) => (side === -1 ? half + k : half - 1 - k);
  const [first] = contour.places;
  if (first === undefined || contour.places.length < FEWEST_COLUMNS) return undefined;
  const slope = slopeOf(contour, 0, 4);
  if (Math.abs(slope) > STEEPEST) return undefined;
  const beyond = first - slope;
  const reach = EVEN_ROWS + Math.abs(slope);
  const [low, high] = [
    Math.floor(Math.min(first, beyond) - reach),
    Math.ceil(Math.max(first, beyond) + reach),
  ];
  if (!cyclic && (low < 0 || high >= length)) return undefined;
  const plateau = indexOf(strip, Math.round(beyond), other(0));
  for (let t = low; t <= high; t++)
    for (let k = 0; k < EVEN_COLUMNS; k++)
      if (pixelDifference(strip, indexOf(strip, t, other(k)), plateau) > strip.plateau) return undefined;
  // The side of the outline on which the colour differs from what lies beyond the seam.
  const sides = [contour.before, contour.after].map((pixel) => pixelDifference(strip, pixel, plateau));
  const [above, below] = sides as [number, number];
  if (Math.max(above, below) < LEAST_STEP) return undefined;
  const inside = Math.round(above > below ? first - 1.5 : first + 1.5);
  const px = rowsUnlike(strip, inside, own(0), plateau);
  const width = px.to - px.from;
  const deeper = rowsUnlike(strip, Math.round((px.from + px.to - 1) / 2), own(DEEPER), plateau);
  const wide = deeper.to - deeper.from;
  // Of a parabola the squares of the widths grow evenly with the depth.
  const depth =
    wide <= width ? Number.POSITIVE_INFINITY : (DEEPER * width * width) / (wide * wide - width * width);
  if (!isSharp(strip, px, inside, own(0), own(1))) return undefined;
  const deep = slopeOf(contour, 2, COLUMNS);
  return {
    px,
    worst: Math.max(above, below),
    stepped: countSteps(strip, pieces, px),
    slope: isStraight(slope, deep) ? Math.sign(deep) * Math.min(Math.abs(deep), Math.abs(slope)) : 0,
    depth,
  };
}

/** Tells whether an outline keeps its slant; a rounded corner, which turns along the seam, loses most of it. */
const isStraight = (slope: number, deep: number): boolean =>
  Math.sign(deep) === Math.sign(slope) && Math.abs(slope) <= 1.6 * Math.abs(deep) + 0.15;

/** Every outline that ends exactly at the seam. */
export function findDeadEnds(strip: Strip, pieces: readonly OpenPiece[]): readonly DeadEnd[] {
  return ([-1, 1] as const).flatMap((side) =>
    followContours(strip, side, COLUMNS).flatMap((contour) => endOf(strip, pieces, contour, side) ?? []),
  );
}

/** Flatter than this towards the seam is the square side of a shape that ends there. Rows a column. */
const LEAST_SLOPE = 0.2;

/**
 * A shape that would close within this many columns beyond the seam only touches it. Hard edges hide where an outline turns:
 * there, more is asked, and a stretch of fewer rows proves nothing.
 */
const LEAST_DEPTH = { soft: 2.5, hard: 4 } as const;
const LEAST_ROWS = { soft: 3, hard: 4 } as const;

/**
 * A corner of the artwork may happen to lie at the seam; then what lies beside it does not step there. Of a shape that is cut
 * so large a part does, and two ends of such are a cut.
 */
const LEAST_SHARE = 0.15;
const FEWEST_ENDS = { clean: 2, grainy: 4 } as const;

/** One end proves a cut where more steps, and the shape grows little wider from the seam inwards. */
const SINGLE = { share: 0.35, rows: { soft: 9, hard: 14 }, depth: { soft: 10, hard: 20 } } as const;

/**
 * Stretches where shapes are cut: outlines that come to the seam at a slant end exactly there, with a step all along between
 * them. A straight side that lies on the seam ends square, a rounded one turns along it before.
 */
export function findCutEnds(
  strip: Strip,
  pieces: readonly OpenPiece[],
  edges: "soft" | "hard",
): readonly DeadEnd[] {
  const rowsOf = ({ px }: DeadEnd) => px.to - px.from;
  const ends = findDeadEnds(strip, pieces).filter(
    (end) =>
      Math.abs(end.slope) >= LEAST_SLOPE &&
      end.depth >= LEAST_DEPTH[edges] &&
      rowsOf(end) >= LEAST_ROWS[edges] &&
      end.stepped >= LEAST_SHARE * rowsOf(end),
  );
  if (ends.length >= FEWEST_ENDS[strip.isGrainy ? "grainy" : "clean"]) return ends;
  if (strip.isGrainy) return [];
  return ends.filter(
    (end) =>
      end.stepped >= Math.max(SINGLE.rows[edges], SINGLE.share * rowsOf(end)) &&
      end.depth >= SINGLE.depth[edges],
  );
}
