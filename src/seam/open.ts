import { pixelDifference, type Strip } from "./strip.js";

/** A stretch of rows whose colours step exactly at the seam, on both sides of which lie the same two plateaus. */
export interface OpenPiece {
  readonly from: number;
  readonly to: number;
  /** The pixels next to the seam in the middle of the piece: indices into the strip. */
  readonly near: number;
  readonly far: number;
  readonly worst: number;
  /** The rows that no outline passing over the seam explains. */
  readonly unexplained: number;
}

/** The least step that counts: just above what an eye sees side by side, CIEDE2000. */
const LEAST_STEP = 1.5;

/** A step is exactly at the seam when the two neighbours on each side add up to less than this part of it. */
const EXACT_SHARE = 0.25;

/** How different pixels of one plateau may be. */
const SAME_PLATEAU = 2.5;

/**
 * The rows of an outline one column beside the seam, at either end of a piece, vouch for this many rows at the seam: of a
 * circle that just touches the seam, the seam's rows are 2.7 times those of the next column on one side.
 */
const ROWS_PER_NEIGHBOUR = 3.5;

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
    if (around <= EXACT_SHARE * step) steps[t] = step;
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
    if (pixelDifference(strip, seam + k - 1, near) > SAME_PLATEAU) continue;
    if (pixelDifference(strip, seam + k + 1, far) > SAME_PLATEAU) continue;
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

/** How many rows, from `t` on in one direction, the outline passes within about a column of the seam. */
function rowsBeside(
  strip: Strip,
  t: number,
  direction: -1 | 1,
  near: number,
  far: number,
  most: number,
): number {
  let rows = 0;
  for (; rows < most; rows++) {
    const at = outlineAt(strip, t + direction * rows, near, far);
    if (at === undefined || Math.abs(at) > 1.25) break;
  }
  return rows;
}

/** The columns in which the corners of a square side are looked at, and how far they may lean, in rows. */
const CORNER_COLUMNS = [1, 3, 6] as const;
const CORNER_LEAN = 2;

/**
 * Tells whether a piece is the straight side of a shape that happens to end at the seam: at both ends the shape's own
 * outline turns square away from the seam, on the same side, with the same two colours. A motif that is cut has outlines of
 * its own inside the cut, or leaves the seam at a slant.
 */
function isSquareSide(strip: Strip, from: number, to: number, middle: number): boolean {
  const looksLike = (t: number, column: number, plateau: number): boolean => {
    const row = rowIndex(strip, t);
    return (
      row !== undefined && pixelDifference(strip, row * 2 * strip.half + column, plateau) <= SAME_PLATEAU
    );
  };
  return [-1, 1].some((side) => {
    const inside = side === -1 ? middle : middle + 1;
    const outside = side === -1 ? middle + 1 : middle;
    return CORNER_COLUMNS.every((k) => {
      const column = side === -1 ? strip.half - 1 - k : strip.half + k;
      return (
        looksLike(from - 1 - CORNER_LEAN, column, outside) &&
        looksLike(from + CORNER_LEAN, column, inside) &&
        looksLike(to - 1 - CORNER_LEAN, column, inside) &&
        looksLike(to + CORNER_LEAN, column, outside)
      );
    });
  });
}

function closePiece(strip: Strip, steps: Float32Array, from: number, to: number): OpenPiece {
  const seamOf = (t: number) => (t % strip.length) * 2 * strip.half + strip.half - 1;
  const middle = seamOf(Math.floor((from + to - 1) / 2));
  let worst = 0;
  for (let t = from; t < to; t++) worst = Math.max(worst, steps[t % strip.length] as number);
  const rows = to - from;
  const beside = Math.max(
    rowsBeside(strip, from - 1, -1, middle, middle + 1, rows),
    rowsBeside(strip, to, 1, middle, middle + 1, rows),
  );
  const isExplained = rows <= ROWS_PER_NEIGHBOUR * beside + 1 || isSquareSide(strip, from, to, middle);
  return { from, to, near: middle, far: middle + 1, worst, unexplained: isExplained ? 0 : rows };
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
      pixelDifference(strip, seamOf(t), seamOf(from)) <= SAME_PLATEAU &&
      pixelDifference(strip, seamOf(t) + 1, seamOf(from) + 1) <= SAME_PLATEAU;
    if (from !== undefined && !goesOn) {
      pieces.push(closePiece(strip, steps, from, t));
      from = undefined;
    }
    if (isOpen && from === undefined) from = t;
  }
  return pieces;
}

/** Pieces that lie together: one fault, crossed by outlines. */
export interface OpenRun {
  readonly from: number;
  readonly to: number;
  readonly worst: number;
  readonly unexplained: number;
  readonly pieces: readonly OpenPiece[];
}

/** Outlines that cross an open stretch interrupt it by no more rows than this. */
const WIDEST_BREAK = 6;

/** Joins unexplained pieces to runs. */
export function joinPieces(pieces: readonly OpenPiece[]): readonly OpenRun[] {
  const runs: OpenRun[] = [];
  for (const piece of pieces) {
    if (piece.unexplained === 0) continue;
    const last = runs.at(-1);
    if (last && piece.from - last.to <= WIDEST_BREAK) {
      runs[runs.length - 1] = {
        from: last.from,
        to: piece.to,
        worst: Math.max(last.worst, piece.worst),
        unexplained: last.unexplained + piece.unexplained,
        pieces: [...last.pieces, piece],
      };
    } else runs.push({ ...piece, pieces: [piece] });
  }
  return runs;
}
