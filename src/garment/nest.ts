import type { Box } from "../geometry/box.js";

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
  for (const { piece, index } of order) {
    const place = firstFit(piece, laid, clothWidth);
    laid.push(place);
    places[index] = place;
  }
  return places;
}

function firstFit(piece: NestPiece, laid: readonly Box[], clothWidth: number): Box {
  const end = Math.max(0, ...laid.map((box) => box.x + box.width));
  const ends = [...new Set([0, ...laid.map((box) => box.x + box.width)])].sort((one, other) => one - other);
  const sides = [...new Set([0, ...laid.map((box) => box.y + box.height)])].sort((one, other) => one - other);
  const { phase } = piece;
  const along: readonly { readonly x: number; readonly y: number | undefined }[] =
    phase === undefined
      ? ends.map((x) => ({ x, y: undefined }))
      : repeatStarts(phase.starts, phase.step, end + phase.step);
  for (const { x, y: fixed } of along) {
    const across = piece.across !== undefined ? [piece.across] : fixed !== undefined ? [fixed] : sides;
    for (const y of across) {
      const box = { x, y, width: piece.width, height: piece.height };
      const inside = piece.across !== undefined || y === 0 || y + piece.height <= clothWidth + TOUCH;
      if (inside && !laid.some((other) => overlaps(box, other))) return box;
    }
  }
  return { x: end, y: piece.across ?? 0, width: piece.width, height: piece.height };
}

function repeatStarts(
  starts: readonly { readonly x: number; readonly y: number | undefined }[],
  step: number,
  end: number,
): readonly { readonly x: number; readonly y: number | undefined }[] {
  const all = starts.flatMap(({ x, y }) => {
    const first = x - Math.floor(x / step) * step;
    const count = Math.max(1, Math.floor((end - first) / step) + 1);
    return Array.from({ length: count }, (_, k) => ({ x: first + k * step, y }));
  });
  return all.sort((one, other) => one.x - other.x || (one.y ?? 0) - (other.y ?? 0));
}

function overlaps(one: Box, other: Box): boolean {
  return (
    one.x < other.x + other.width - TOUCH &&
    other.x < one.x + one.width - TOUCH &&
    one.y < other.y + other.height - TOUCH &&
    other.y < one.y + one.height - TOUCH
  );
}
