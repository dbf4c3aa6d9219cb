import { RepetendError } from "../../errors.js";
import type { Ask } from "./asked.js";
import { exactContact, levelsOf, placeLines } from "./exact.js";
import { makePiece, type Piece } from "./piece.js";
import { movesNear, type Space } from "./space.js";

/** Whether a piece is nearer than the gap to its own copies, line by line. */
export function meetsItself(piece: Piece, space: Space, gap: number): boolean {
  const moves = movesNear(space, 0, 0, 2 * piece.radius + gap);
  if (moves.length <= 2) return false;
  const lines = placeLines(piece);
  for (let m = 0; m < moves.length; m += 2) {
    const [mx, my] = [moves[m] as number, moves[m + 1] as number];
    if (!(mx > 0 || (mx === 0 && my > 0))) continue;
    if (exactContact(piece, lines, piece, lines, mx, my, gap) !== undefined) return true;
  }
  return false;
}

/** How tall a piece is across a band. */
function heightOf(piece: Piece): number {
  const [top, bottom] = levelsOf(placeLines(piece));
  return bottom - top;
}

/** Turns of a range that are looked at. */
const LOOKS = 24;

/** Whether a motif of this size has room in the space at all, at any turn it may take. */
function hasRoom({ kind, turns }: Ask, scale: number, space: Space, gap: number): boolean {
  const tried =
    turns.kind === "list"
      ? turns.turns
      : Array.from({ length: LOOKS + 1 }, (_, k) => turns.from + ((turns.to - turns.from) * k) / LOOKS);
  return tried.some((turn) => {
    const piece = makePiece({
      ...{ kind, asked: 0, turns, mirrored: false, stiff: true, x: 0, y: 0, turn, scale },
    });
    if (space.edges !== undefined && heightOf(piece) > space.height - 2 * space.edges.keep) return false;
    return !meetsItself(piece, space, gap);
  });
}

/** What is added around curves weighs more on a smaller motif. */
const SURE = 0.99;

/**
 * Refuses a motif that is too large for the space even alone: its own copies, or a band's limits, leave no room.
 *
 * @throws `RepetendError` E_SIZE with the largest width that would do.
 */
export function checkRoom(ask: Ask, space: Space, gap: number): void {
  if (hasRoom(ask, ask.smallest, space, gap)) return;
  let [fits, fails] = [0, ask.smallest];
  for (let step = 0; step < 14; step += 1) {
    const middle = (fits + fails) / 2;
    if (hasRoom(ask, middle, space, gap)) fits = middle;
    else fails = middle;
  }
  const { motif } = ask.kind;
  const width = Math.floor(fits * SURE * motif.viewBox.width * 10) / 10;
  throw new RepetendError("E_SIZE", "a motif is too large to be tossed here: its own repeats leave no gap", {
    input: motif.name,
    where: `toss.motifs[${ask.index}].width`,
    value: `${Number((ask.smallest * motif.viewBox.width).toFixed(3))} mm`,
    accepted:
      width > 0
        ? `at most ${width} mm, or a smaller gap or a larger repeat`
        : "a smaller gap or a larger repeat",
  });
}
