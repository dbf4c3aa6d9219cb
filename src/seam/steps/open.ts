import { pixelDifference, type Strip } from "../strip/strip.js";
import { rowIndex } from "./beside-seam.js";
import { isSameStep, type OpenPiece, SPARE_ROWS } from "./open-pieces.js";

/** How far from a piece, in rows, slanted outlines of the same cut are looked for, and the least that they step. */
const HALF_STEP_REACH = 16;
const LEAST_HALF_STEP = 5;

/** Fewer such rows are the rounded corners of a straight side. */
const MOST_HALF_STEPS = 7;

/**
 * Rows near a piece that step at the seam while the side on which the piece's plateau goes on stays flat: outlines of the
 * other side, at any slant, that end there.
 */
function countHalfSteps(strip: Strip, jumps: Float32Array, piece: OpenPiece): number {
  const { half } = strip;
  const across = 2 * half - 1;
  return Math.max(
    ...([-1, 1] as const).map((side) => {
      if (piece.line === side) return 0;
      let rows = 0;
      for (let t = piece.from - HALF_STEP_REACH; t < piece.to + HALF_STEP_REACH; t++) {
        const row = rowIndex(strip, t);
        if (row === undefined || (t >= piece.from && t < piece.to)) continue;
        const at = row * across + half - 1;
        const step = jumps[at] as number;
        if (step < LEAST_HALF_STEP) continue;
        let flat = true;
        for (let k = 1; k <= 4; k++) flat &&= (jumps[at + side * k] as number) <= 0.05 * step;
        const plateau = side === -1 ? piece.near : piece.far;
        const pixel = row * 2 * half + (side === -1 ? half - 1 : half);
        if (flat && pixelDifference(strip, pixel, plateau) <= strip.plateau) rows++;
      }
      return rows;
    }),
  );
}

/** Pieces that lie together: one fault, crossed by outlines. */
export interface OpenRun {
  readonly from: number;
  readonly to: number;
  readonly worst: number;
  /** Rows that nothing explains. */
  readonly rows: number;
  /** Places where an outline on one side ends at the seam, with nothing to meet it on the other. */
  readonly deadEnds: number;
  readonly pieces: readonly OpenPiece[];
}

/** Outlines that cross an open stretch interrupt it by no more rows than this. */
const WIDEST_BREAK = 6;

/** Plateaus that differ by more are two colours. */
const OTHER_COLOUR = 4;

/** A piece of one row may be a mixed pixel, and one that an outline explains is none. */
const isFirm = (piece: OpenPiece): boolean => piece.explained !== "outline" && piece.to - piece.from >= 2;

/** Joins pieces to runs. */
export function joinPieces(
  strip: Strip,
  jumps: Float32Array,
  pieces: readonly OpenPiece[],
): readonly OpenRun[] {
  const groups: OpenPiece[][] = [];
  for (const piece of pieces) {
    const last = groups.at(-1);
    if (last && piece.from - (last.at(-1) as OpenPiece).to <= WIDEST_BREAK) last.push(piece);
    else groups.push([piece]);
  }
  return groups.flatMap((group): readonly OpenRun[] => {
    const dead = group.map((piece, i) => {
      const next = group[i + 1];
      if (next === undefined || !isFirm(piece) || !isFirm(next)) return false;
      const near = pixelDifference(strip, piece.near, next.near);
      const far = pixelDifference(strip, piece.far, next.far);
      const onLine = (side: -1 | 1) => piece.line === side && next.line === side;
      return (
        (near > OTHER_COLOUR && far <= strip.plateau && !onLine(1)) ||
        (far > OTHER_COLOUR && near <= strip.plateau && !onLine(-1))
      );
    });
    const open = group.filter(
      (piece, i) =>
        piece.explained === undefined ||
        (piece.explained !== "outline" && (dead[i] || dead[i - 1])) ||
        (isFirm(piece) &&
          piece.to - piece.from > SPARE_ROWS &&
          countHalfSteps(strip, jumps, piece) >= MOST_HALF_STEPS),
    );
    const [first, last] = [open[0], open.at(-1)];
    if (first === undefined || last === undefined) return [];
    return [
      {
        from: first.from,
        to: last.to,
        worst: Math.max(...open.map((piece) => piece.worst)),
        rows: open.reduce((sum, piece) => sum + piece.to - piece.from, 0),
        deadEnds: dead.filter((isDead) => isDead).length,
        pieces: group,
      },
    ];
  });
}

/** How far beyond the ends of an open stretch its shapes may end, in rows: outlines slant. */
const END_REACH = 10;

/**
 * Tells whether the shape of an open stretch ends at both its ends on both sides of the seam: then only the ink differs. Of a
 * motif that is cut, the other side is ground that goes on.
 */
export function isBounded(strip: Strip, run: OpenRun): boolean {
  const { half, length } = strip;
  const pixelAt = (t: number, column: number) => (((t % length) + length) % length) * 2 * half + column;
  const piece = run.pieces.reduce((one, other) => (other.to - other.from > one.to - one.from ? other : one));
  return [half - 1, half].every((column) => {
    const middle = column === half - 1 ? piece.near : piece.far;
    const ends = (first: number, step: 1 | -1) => {
      for (let k = 0; k < END_REACH; k++)
        if (pixelDifference(strip, pixelAt(first + step * k, column), middle) > strip.plateau) return true;
      return false;
    };
    return ends(piece.from - 1, -1) && ends(piece.to, 1);
  });
}

/**
 * Shorter open stretches are corners and ends of lines that happen to lie at the seam, in pixels. Calibrated on 12,000 closed
 * edges, also such that lie anywhere inside the bench's tiles. Hard edges do not show whether a straight side is rounded at
 * its ends: there, a plain step is none. JPEG codes blocks of 8 pixels by themselves: in grain, a step along a few of them
 * proves nothing.
 */
const FEWEST_ROWS = {
  soft: { plain: 7, bounded: 5, withDeadEnds: 5 },
  hard: { plain: Number.POSITIVE_INFINITY, bounded: 6, withDeadEnds: 5 },
  grainy: { plain: 40, bounded: 40, withDeadEnds: 28 },
} as const;

const HALF_OF_EDGE = 0.5;

/** An outline may end by chance at a line that lies on the seam; two do not. */
const FEWEST_DEAD_ENDS = 2;

/** So many columns of the strip may step along half of the edge, too: more are checks or stripes of the print. */
const MOST_STEPPING = 2;

/** The whole edge as one run, where colours step along half of it: no side of a motif is so long. */
function findAlong(
  { length, half }: Strip,
  jumps: Float32Array,
  pieces: readonly OpenPiece[],
): OpenRun | undefined {
  const open = pieces.filter((piece) => piece.explained !== "outline");
  const rows = open.reduce((sum, { from, to }) => sum + to - from, 0);
  if (rows < HALF_OF_EDGE * length) return undefined;
  const across = 2 * half - 1;
  const steps = new Float64Array(across);
  for (let at = 0; at < jumps.length; at++)
    if ((jumps[at] as number) >= LEAST_HALF_STEP) steps[at % across] = (steps[at % across] as number) + 1;
  const stepping = steps.filter((count, j) => j !== half - 1 && count >= HALF_OF_EDGE * length).length;
  if (stepping > MOST_STEPPING) return undefined;
  const worst = Math.max(...open.map((piece) => piece.worst));
  return { from: 0, to: length, worst, rows, deadEnds: 0, pieces: open };
}

/**
 * The runs that are a fault: long enough for their kind. Short runs between the same two colours in several places are
 * one fault, and count together.
 */
export function findOpenRuns(
  strip: Strip,
  jumps: Float32Array,
  pieces: readonly OpenPiece[],
  edges: "soft" | "hard",
): readonly OpenRun[] {
  const along = findAlong(strip, jumps, pieces);
  if (along !== undefined) return [along];
  const runs = joinPieces(strip, jumps, pieces);
  const fewest = FEWEST_ROWS[strip.isGrainy ? "grainy" : edges];
  const main = (run: OpenRun): OpenPiece =>
    run.pieces.reduce((one, other) => (other.to - other.from > one.to - one.from ? other : one));
  return runs.filter((run) => {
    // Soft edges show how a straight side or a line ends: a run of nothing else is none.
    const isPlain = !strip.isGrainy && edges === "soft" && run.deadEnds < FEWEST_DEAD_ENDS;
    if (isPlain && run.pieces.every((piece) => piece.explained !== undefined)) return false;
    const alike = runs.filter((other) => isSameStep(strip, main(run), main(other)));
    const total = alike.reduce((sum, other) => sum + other.rows, 0);
    const kind = run.deadEnds > 0 ? "withDeadEnds" : isBounded(strip, run) ? "bounded" : "plain";
    return total >= fewest[kind];
  });
}
