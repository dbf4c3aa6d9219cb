import type { Contact } from "./contact.js";
import { findContact } from "./contact.js";
import { exactContact, levelsOf, type PlacedLines, placeLines } from "./exact.js";
import { type Piece, setPose } from "./piece.js";
import { pushPiece, yieldOf } from "./settle.js";
import { movesNear, type Space } from "./space.js";
import { keepTurn } from "./turns.js";

/** Two pieces and where they are nearest, line by line. */
export interface ExactPair {
  readonly one: Piece;
  readonly other: Piece;
  readonly mx: number;
  readonly my: number;
  readonly contact: Contact;
}

/** Places are written in thousandths of a mm. */
const PLACE_STEPS = 1_000;

/** The pose as it will be written: what is judged is what is handed out. */
export function roundPose(piece: Piece): void {
  if (piece.fixed) return;
  piece.x = Math.round(piece.x * PLACE_STEPS) / PLACE_STEPS;
  piece.y = Math.round(piece.y * PLACE_STEPS) / PLACE_STEPS;
  setPose(piece, keepTurn(piece.turns, piece.turn), piece.scale);
}

/** All pairs that are nearer than `below` mm, exactly; a piece and its own copies too. Only those of `moved`, if given. */
export function findExactPairs(
  pieces: readonly Piece[],
  space: Space,
  below: number,
  moved?: ReadonlySet<Piece>,
): readonly ExactPair[] {
  const lines = new Map<Piece, PlacedLines>();
  const linesOf = (piece: Piece): PlacedLines => {
    const known = lines.get(piece) ?? placeLines(piece);
    lines.set(piece, known);
    return known;
  };
  const pairs: ExactPair[] = [];
  for (const [index, one] of pieces.entries()) {
    for (let k = index; k < pieces.length; k += 1) {
      const other = pieces[k] as Piece;
      if (one.fixed && other.fixed) continue;
      if (moved !== undefined && !moved.has(one) && !moved.has(other)) continue;
      const reach = one.radius + other.radius + below;
      const moves = movesNear(space, other.x - one.x, other.y - one.y, reach);
      for (let m = 0; m < moves.length; m += 2) {
        const [mx, my] = [moves[m] as number, moves[m + 1] as number];
        // Of its own copies one of each two opposite ones tells all.
        if (k === index && !(mx > 0 || (mx === 0 && my > 0))) continue;
        const contact = exactContact(one, linesOf(one), other, linesOf(other), mx, my, below);
        if (contact !== undefined) pairs.push({ one, other, mx, my, contact });
      }
    }
  }
  return pairs;
}

/** How far the outermost lines of a piece lie outside of the lines that a band keeps: above, and below. */
function beyondOf(piece: Piece, space: Space): readonly [number, number] {
  if (space.edges === undefined || piece.fixed) return [0, 0];
  const [top, bottom] = levelsOf(placeLines(piece));
  return [space.edges.keep - top, bottom - (space.height - space.edges.keep)];
}

/** Room beyond what is asked when two are parted, in gaps, so that neither rounding nor the next neighbour undoes it. */
const SPARE = 0.01;
const ROUNDS = 40;

/**
 * Holds all outlines against each other line by line, and parts those that are too near, until none is. One that
 * cannot be parted is taken out: a filler before any other.
 */
export function finish(
  pieces: Piece[],
  space: Space,
  gap: number,
  isFiller: (piece: Piece) => boolean,
): void {
  let moved: Set<Piece> | undefined;
  for (let round = 0; pieces.length > 0; round += 1) {
    for (const piece of pieces) roundPose(piece);
    const near = findExactPairs(pieces, space, gap, moved);
    moved = new Set(near.flatMap(({ one, other }) => [one, other]));
    const outside = pieces.filter((piece) => beyondOf(piece, space).some((amount) => amount > 0));
    if (near.length === 0 && outside.length === 0) return;
    if (round > 0 && round % ROUNDS === 0) {
      const guilty = [...outside, ...near.flatMap(({ one, other }) => [one, other])].filter(
        (piece) => !piece.fixed,
      );
      const out = guilty.find(isFiller) ?? guilty.sort((one, other) => one.radius - other.radius)[0];
      if (out === undefined) return;
      pieces.splice(pieces.indexOf(out), 1);
      continue;
    }
    for (const { one, other, mx, my, contact } of near) {
      // Where outlines cross, their grids of distances know the shortest way out.
      const { apart, x, y, nx, ny } =
        contact.apart > 0 ? contact : (findContact(one, other, mx, my, gap) ?? contact);
      const [ox, oy] = [x - mx, y - my];
      if (one === other) continue;
      const give = yieldOf(one, nx, ny, x, y) + yieldOf(other, nx, ny, ox, oy);
      const push = (Math.min(gap, gap - apart) + SPARE * gap) / give;
      pushPiece(one, push, nx, ny, x, y);
      pushPiece(other, -push, nx, ny, ox, oy);
    }
    for (const piece of outside) {
      moved.add(piece);
      const [above, below] = beyondOf(piece, space);
      piece.y += (above > 0 ? above + SPARE * gap : 0) - (below > 0 ? below + SPARE * gap : 0);
    }
  }
}
