import { pixelDifference, type Strip } from "./strip.js";

/** A stretch of rows whose colours step exactly at the seam, on both sides of which lie the same two plateaus. */
export interface OpenPiece {
  readonly from: number;
  readonly to: number;
  /** The pixels next to the seam in the middle of the piece: indices into the strip. */
  readonly near: number;
  readonly far: number;
  readonly worst: number;
  /** Why it may be right: an outline that passes over the seam, too few rows, a straight side or a line that lies on it. */
  readonly explained: "outline" | "short" | "side" | "line" | undefined;
  /** An outline passes over the seam at both ends, unbroken: only the ink changes in between. */
  readonly isFramed: boolean;
  /** The side on which a thin line of even width follows the seam; outlines of the other side rightly end at it. */
  readonly line: -1 | 1 | undefined;
}

/** The least step that counts: just above what an eye sees side by side, CIEDE2000. */
const LEAST_STEP = 1.5;

/** A step is exactly at the seam when the two neighbours on each side add up to less than this part of it. */
const EXACT_SHARE = 0.25;

/** More than this beside the seam is a mixed pixel of a soft outline that runs along it, however large the step. */
const MOST_AROUND = 6;

/**
 * The rows of an outline one column beside the seam, at either end of a piece, vouch for this many rows at the seam: of a
 * circle that just touches the seam, the seam's rows are 2.7 times those of the next column on one side.
 */
const ROWS_PER_NEIGHBOUR = 3.5;

/** Of a small disc with hard edges, the row next to the seam holds so few rows that a few at the seam go unvouched. */
const SPARE_ROWS = 3;

/** How far from a piece, in rows, slanted outlines of the same cut are looked for, and the least that they step. */
const HALF_STEP_REACH = 16;
const LEAST_HALF_STEP = 5;

/** Fewer such rows are the rounded corners of a straight side. */
const MOST_HALF_STEPS = 7;

const rowIndex = (strip: Strip, t: number): number | undefined =>
  strip.cyclic
    ? ((t % strip.length) + strip.length) % strip.length
    : t >= 0 && t < strip.length
      ? t
      : undefined;

/** The differences across the seam of rows that step exactly there; 0 for all other rows. */
export function exactSteps(strip: Strip, jumps: Float32Array): Float32Array {
  const across = 2 * strip.half - 1;
  const seam = strip.half - 1;
  const steps = new Float32Array(strip.length);
  for (let t = 0; t < strip.length; t++) {
    const at = t * across + seam;
    const step = jumps[at] as number;
    if (step < LEAST_STEP) continue;
    let around = 0;
    for (let k = 1; k <= 2; k++) around += (jumps[at - k] as number) + (jumps[at + k] as number);
    if (around <= EXACT_SHARE * step && (strip.isGrainy || around <= MOST_AROUND)) steps[t] = step;
  }
  return steps;
}

/**
 * Where the outline between two plateaus passes in a row, in columns from the seam, or `undefined` when it passes further
 * than two columns away or not at all. Of a soft outline, the mixed pixel says where in it the outline runs.
 */
function outlineAt(strip: Strip, t: number, near: number, far: number): number | undefined {
  const row = rowIndex(strip, t);
  if (row === undefined) return undefined;
  const seam = row * 2 * strip.half + strip.half;
  for (const k of [-1, 0, -2, 1]) {
    if (pixelDifference(strip, seam + k - 1, near) > strip.plateau) continue;
    if (pixelDifference(strip, seam + k + 1, far) > strip.plateau) continue;
    const share = shareOfFar(strip, seam + k, near, far);
    if (share !== undefined) return k + 1 - share;
  }
  return undefined;
}

/** How much of the far plateau a mixed pixel holds, 0 to 1; `undefined` for a pixel of a third colour. */
function shareOfFar({ lab }: Strip, pixel: number, near: number, far: number): number | undefined {
  let [dot, length, away] = [0, 0, 0];
  for (let i = 0; i < 4; i++) {
    const axis = (lab[4 * far + i] as number) - (lab[4 * near + i] as number);
    const own = (lab[4 * pixel + i] as number) - (lab[4 * near + i] as number);
    dot += axis * own;
    length += axis * axis;
    away += own * own;
  }
  const share = Math.min(1, Math.max(0, dot / length));
  // Mixing is linear in light or in sRGB, so a mixed pixel lies a little beside the line in Lab.
  const beside = Math.sqrt(Math.max(0, away - 2 * share * dot + share * share * length));
  return beside <= 5 + 0.2 * Math.sqrt(length) ? share : undefined;
}

/** Nearer to the seam than this, in columns, an outline is the step itself; further off it passes beside. */
const BESIDE = { from: 0.15, to: 1.25 } as const;

/** How many rows, from `t` on in one direction, the outline passes beside the seam, within about a column of it. */
function rowsBeside(
  strip: Strip,
  t: number,
  direction: -1 | 1,
  near: number,
  far: number,
  most: number,
): number {
  let rows = 0;
  for (let k = 0; rows < most && k < most + 3; k++) {
    const at = Math.abs(outlineAt(strip, t + direction * k, near, far) ?? Number.POSITIVE_INFINITY);
    if (at > BESIDE.to) break;
    if (at > BESIDE.from) rows++;
  }
  return rows;
}

const looksLike = (strip: Strip, t: number, column: number, plateau: number): boolean => {
  const row = rowIndex(strip, t);
  return row !== undefined && pixelDifference(strip, row * 2 * strip.half + column, plateau) <= strip.plateau;
};

/** Tells whether an outline of a third colour runs over the seam somewhere in the three rows from `t` on. */
const passesAt = (strip: Strip, t: number, middle: number): boolean =>
  [0, 1, 2].some((k) =>
    [strip.half - 1, strip.half].every(
      (column) => !looksLike(strip, t + k, column, middle) && !looksLike(strip, t + k, column, middle + 1),
    ),
  );

/** The columns in which the corners of a square side are looked at, and how far they may lean, in rows. */
const CORNER_COLUMNS = [1, 2] as const;
const CORNER_LEAN = 2;

/** Where the shape is deeper than a line, its corners must be square as far in as this: no more than 1 in 4 off. */
const DEEP_COLUMN = 9;

/** A rounded end stays beside the seam for this many rows before it turns off. */
const ROUND_END = 2;

/**
 * Tells whether a piece is the straight side of a shape that happens to end at the seam: at one end at least the shape's
 * own outline turns square away from the seam, with the same two colours, and at the other it does too, or an outline
 * passes there on both sides. A motif that is cut has outlines of its own that end at the cut, or leaves it at a slant.
 */
function isSquareSide(
  strip: Strip,
  from: number,
  to: number,
  middle: number,
  beside: { readonly above: number; readonly below: number },
): boolean {
  const { half } = strip;
  return [-1, 1].some((side) => {
    const inside = side === -1 ? middle : middle + 1;
    const outside = side === -1 ? middle + 1 : middle;
    const deep = side === -1 ? half - 1 - DEEP_COLUMN : half + DEEP_COLUMN;
    const isDeep = DEEP_COLUMN < half && looksLike(strip, Math.floor((from + to - 1) / 2), deep, inside);
    const columns = isDeep ? [...CORNER_COLUMNS, DEEP_COLUMN] : CORNER_COLUMNS;
    const turnsAt = (within: number, beyond: number) =>
      columns.every((k) => {
        const column = side === -1 ? half - 1 - k : half + k;
        return looksLike(strip, beyond, column, outside) && looksLike(strip, within, column, inside);
      });
    const isRound = (rows: number) => rows >= ROUND_END;
    const start = turnsAt(from + CORNER_LEAN, from - 1 - CORNER_LEAN);
    const end = turnsAt(to - 1 - CORNER_LEAN, to + CORNER_LEAN);
    return (
      (start && (end || isRound(beside.below))) ||
      (end && isRound(beside.above)) ||
      (start && passesAt(strip, to, middle)) ||
      (end && passesAt(strip, from - 3, middle))
    );
  });
}

/** A line that follows the seam is no wider than this, in columns, and follows it over this share of a piece. */
const WIDEST_LINE = 12;
const LINE_SHARE = 0.7;

/**
 * The side on which a thin line of even width runs along the seam: an outline that happens to touch it. The width
 * is the one that most rows have, give or take a pixel.
 */
function lineAlong(strip: Strip, from: number, to: number, middle: number): -1 | 1 | undefined {
  const { half, length } = strip;
  return ([-1, 1] as const).find((side) => {
    const plateau = side === -1 ? middle : middle + 1;
    const rowsOfWidth = new Float64Array(WIDEST_LINE + 2);
    for (let t = from; t < to; t++) {
      const row = (t % length) * 2 * half;
      for (let k = 1; k <= WIDEST_LINE; k++) {
        const column = side === -1 ? half - 1 - k : half + k;
        if (pixelDifference(strip, row + column, plateau) <= strip.plateau) continue;
        rowsOfWidth[k] = (rowsOfWidth[k] as number) + 1;
        break;
      }
    }
    const even = rowsOfWidth.reduce(
      (most, rows, k) => Math.max(most, rows + (rowsOfWidth[k + 1] ?? 0) + (rowsOfWidth[k - 1] ?? 0)),
      0,
    );
    return even >= LINE_SHARE * (to - from);
  });
}

function closePiece(strip: Strip, steps: Float32Array, from: number, to: number): OpenPiece {
  const seamOf = (t: number) => (t % strip.length) * 2 * strip.half + strip.half - 1;
  const middle = seamOf(Math.floor((from + to - 1) / 2));
  let worst = 0;
  for (let t = from; t < to; t++) worst = Math.max(worst, steps[t % strip.length] as number);
  const rows = to - from;
  const above = rowsBeside(strip, from - 1, -1, middle, middle + 1, rows);
  const below = rowsBeside(strip, to, 1, middle, middle + 1, rows);
  const beside = Math.max(above, below);
  const isFramed = passesAt(strip, to, middle) && passesAt(strip, from - 3, middle);
  const line = lineAlong(strip, from, to, middle);
  const explained =
    beside > 0 && rows <= ROWS_PER_NEIGHBOUR * beside + SPARE_ROWS
      ? "outline"
      : rows <= SPARE_ROWS
        ? "short"
        : isSquareSide(strip, from, to, middle, { above, below })
          ? "side"
          : !isFramed && line !== undefined
            ? "line"
            : undefined;
  return { from, to, near: middle, far: middle + 1, worst, explained, isFramed, line };
}

/** Every piece of the seam at which plateaus meet that differ. Places from 0 up to twice the length, where it wraps. */
export function findOpenPieces(strip: Strip, steps: Float32Array): readonly OpenPiece[] {
  const { length, half } = strip;
  const pieces: OpenPiece[] = [];
  let start = 0;
  if (strip.cyclic) while (start < length && (steps[start] as number) > 0) start++;
  const end = start === length ? length : start + (strip.cyclic ? length : 0);
  const last = strip.cyclic && start < length ? end : length;
  let from: number | undefined;
  const seamOf = (t: number) => (t % length) * 2 * half + half - 1;
  for (let t = start === length ? 0 : start; t <= last; t++) {
    const isOpen = t < last && (steps[t % length] as number) > 0;
    const goesOn =
      isOpen &&
      from !== undefined &&
      pixelDifference(strip, seamOf(t), seamOf(from)) <= strip.plateau &&
      pixelDifference(strip, seamOf(t) + 1, seamOf(from) + 1) <= strip.plateau;
    if (from !== undefined && !goesOn) {
      pieces.push(closePiece(strip, steps, from, t));
      from = undefined;
    }
    if (isOpen && from === undefined) from = t;
  }
  return pieces;
}

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
  /** Rows of pieces that are framed by unbroken outlines. */
  readonly framed: number;
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
        framed: open.reduce((sum, piece) => sum + (piece.isFramed ? piece.to - piece.from : 0), 0),
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
 * Shorter open stretches are corners and ends of lines that happen to lie at the seam, in pixels. Hard edges do not show
 * whether a short side is rounded.
 */
const FEWEST_ROWS = { plain: { soft: 10, hard: 18 }, withDeadEnds: 7, framed: 6 } as const;

/** JPEG codes blocks of 8 pixels by themselves: in grain, a step along one or two of them proves nothing. */
const GRAINY_TIMES = 4;

/** Tells whether two runs step between the same two colours. */
function isSameStep(strip: Strip, one: OpenPiece, other: OpenPiece): boolean {
  return (
    pixelDifference(strip, one.near, other.near) <= strip.plateau &&
    pixelDifference(strip, one.far, other.far) <= strip.plateau
  );
}

/**
 * The runs that are a fault: long enough for their kind. Short runs between the same two colours in several places are
 * one fault, and count together.
 */
export function findOpenRuns(strip: Strip, jumps: Float32Array, edges: "soft" | "hard"): readonly OpenRun[] {
  const runs = joinPieces(strip, jumps, findOpenPieces(strip, exactSteps(strip, jumps)));
  const main = (run: OpenRun): OpenPiece =>
    run.pieces.reduce((one, other) => (other.to - other.from > one.to - one.from ? other : one));
  return runs.filter((run) => {
    const alike = runs.filter((other) => isSameStep(strip, main(run), main(other)));
    const total = (count: (run: OpenRun) => number) => alike.reduce((sum, other) => sum + count(other), 0);
    const times = strip.isGrainy ? GRAINY_TIMES : 1;
    const fewest =
      run.deadEnds > 0 ? FEWEST_ROWS.withDeadEnds : FEWEST_ROWS.plain[isBounded(strip, run) ? "soft" : edges];
    return (
      total((one) => one.rows) >= times * fewest || total((one) => one.framed) >= times * FEWEST_ROWS.framed
    );
  });
}
