import type { Box } from "../../geometry/box.js";

/** A rectangle to be laid on cloth; x along the cloth, y across it, in mm. */
export interface NestPiece {
  readonly width: number;
  readonly height: number;
  /** Where it may begin across the cloth; `undefined` where it is free. */
  readonly across: number | undefined;
  /** Places where it may begin, repeated every `step`; `undefined` where it is free. */
  readonly phase:
    | {
        /** Along and across, of one lattice point a candidate. */
        readonly starts: readonly { readonly x: number; readonly y: number | undefined }[];
        readonly step: number;
      }
    | undefined;
}

/** Rounding: pieces that touch do not overlap. */
const TOUCH = 1e-6;

/**
 * Lays rectangles on cloth, each in its turn at the first free place along the cloth, and of those the first across
 * (first fit, after B. S. Baker, E. G. Coffman, R. L. Rivest, "Orthogonal packings in two dimensions", SIAM J.
 * Comput. 9, 1980, where it is called bottom left). Pieces that must lie in a row go first, then the larger. A piece
 * that is wider than the cloth is laid at its edge.
 *
 * @returns A place for each piece, in the order given.
 */
export function nest(pieces: readonly NestPiece[], clothWidth: number): readonly Box[] {
  const order = pieces
    .map((piece, index) => ({ piece, index }))
    .sort(
      (one, other) =>
        Number(one.piece.across === undefined) - Number(other.piece.across === undefined) ||
        other.piece.width * other.piece.height - one.piece.width * one.piece.height ||
        one.index - other.index,
    );
  const laid: Box[] = [];
  const places: Box[] = pieces.map(() => ({ x: 0, y: 0, width: 0, height: 0 }));
  // Cloth only fills: a piece like one before has no place before that one's.
  const reached = new Map<string, number>();
  for (const { piece, index } of order) {
    const kind = JSON.stringify(piece);
    const place = firstFit(piece, laid, clothWidth, reached.get(kind) ?? 0);
    reached.set(kind, place.x);
    laid.push(place);
    places[index] = place;
  }
  return places;
}

interface Start {
  readonly x: number;
  readonly y: number | undefined;
}

/** @param from no place before this is free. */
function firstFit(piece: NestPiece, laid: readonly Box[], clothWidth: number, from: number): Box {
  const ends = laid.map((box) => box.x + box.width);
  const end = ends.reduce((most, one) => Math.max(most, one), 0);
  const { phase, width, height } = piece;
  const along: readonly Start[] =
    phase === undefined
      ? sortOnce([0, ...ends].filter((x) => x >= from)).map((x) => ({ x, y: undefined }))
      : repeatStarts(phase.starts, phase.step, from, end + phase.step);
  // What ends before one place ends before the next.
  let ahead = laid;
  let beside: readonly Box[] = [];
  let at = Number.NaN;
  for (const { x, y: fixed } of along) {
    if (x !== at) {
      at = x;
      ahead = ahead.filter((other) => other.x + other.width > x + TOUCH);
      beside = ahead.filter((other) => other.x < x + width - TOUCH);
    }
    const row = piece.across ?? fixed;
    // The first free place across begins at the cloth's edge or where something beside it ends.
    const across = row === undefined ? sortOnce([0, ...beside.map((box) => box.y + box.height)]) : [row];
    for (const y of across) {
      const inside = piece.across !== undefined || y === 0 || y + height <= clothWidth + TOUCH;
      if (inside && !beside.some((other) => overlapsAcross(y, height, other))) return { x, y, width, height };
    }
  }
  return { x: end, y: piece.across ?? 0, width, height };
}

const sortOnce = (values: readonly number[]): readonly number[] =>
  [...new Set(values)].sort((one, other) => one - other);

function repeatStarts(starts: readonly Start[], step: number, from: number, end: number): readonly Start[] {
  const all = starts.flatMap(({ x, y }) => {
    const first = x - Math.floor(x / step) * step;
    const skipped = Math.max(0, Math.ceil((from - first) / step - 1e-9));
    const last = Math.max(0, Math.floor((end - first) / step));
    const count = Math.max(0, last - skipped + 1);
    return Array.from({ length: count }, (_, k) => ({ x: first + (skipped + k) * step, y }));
  });
  return all.sort((one, other) => one.x - other.x || (one.y ?? 0) - (other.y ?? 0));
}

const overlapsAcross = (y: number, height: number, other: Box): boolean =>
  y < other.y + other.height - TOUCH && other.y < y + height - TOUCH;
