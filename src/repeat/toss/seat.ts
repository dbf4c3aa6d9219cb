import type { Ask } from "./asked.js";
import { type HoleMap, holeAt, listHoles } from "./hole-map.js";
import { makePiece, type NewPiece, type Piece, setPose } from "./piece.js";
import type { Random } from "./random.js";
import { meetsItself } from "./room.js";
import { movesNear, type Space } from "./space.js";
import { keepTurn } from "./turns.js";

/** A place and a turn for a new piece. */
export interface Seat {
  readonly piece: Piece;
  /** How badly it fits between the others: 0 fits. */
  readonly misfit: number;
  /** The same with what speaks against it besides: its own kind nearby, or turned alike. */
  readonly worth: number;
}

/** What is known when a piece is to be seated. */
export interface Seating {
  readonly space: Space;
  readonly pieces: readonly Piece[];
  readonly map: HoleMap;
  readonly gap: number;
  readonly random: Random;
  /** How many are expected of the kind, for how far its own kind is kept away. */
  readonly expected: number;
  /** How many places are tried. */
  readonly places: number;
}

/** Turns that are tried at each place. */
const TURNS_TRIED = 12;
/** A turn that its kind has already, and its own kind nearby, count as so much of a misfit. */
const DIRECTION = 0.012;
const ALIKE = 0.5;
/** Of places where a piece fits the loneliest is taken (best candidate: D. P. Mitchell 1991, from memory). */
const LONELY = 0.05;

/** Turns to try: spread over the range from a random start, so that no direction is preferred. */
function turnsOf({ turns }: Ask, random: Random): readonly number[] {
  if (turns.kind === "list") return turns.turns;
  const start = random();
  const wide = turns.to - turns.from;
  return Array.from({ length: TURNS_TRIED }, (_, k) =>
    keepTurn(turns, turns.from + (wide * (k + start)) / TURNS_TRIED),
  );
}

/** How much of its kind points the same way already: 1 for a piece of the very same turn. */
function crowding(turn: number, sameKind: readonly Piece[], { turns }: Ask): number {
  const wide = turns.kind === "list" ? 360 : turns.to - turns.from;
  let sum = 0;
  for (const other of sameKind) {
    const apart = Math.abs(((((turn - other.turn) % 360) + 540) % 360) - 180);
    sum += Math.max(0, 1 - apart / (wide / 6));
  }
  return sum;
}

/** Places to try: the middles of the widest holes, places beside them, and any. */
function placesOf({ map, space, random, places }: Seating): readonly (readonly [number, number])[] {
  const holes = listHoles(map, places);
  return Array.from({ length: places }, (_, k) => {
    const hole = holes[k % Math.max(1, Math.ceil(holes.length))];
    if (hole === undefined || (k >= holes.length && k % 3 === 2)) {
      return [random() * space.width, random() * space.height] as const;
    }
    const off = k < holes.length / 2 ? 0 : hole.apart;
    return [hole.x + (random() - 0.5) * off, hole.y + (random() - 0.5) * off] as const;
  });
}

/** How badly an outline fits between the others: the mean square of what is lacking of the gap, in gaps. */
function misfitOf(piece: Piece, map: HoleMap, gap: number, enough: number): number {
  const { samples } = piece.kind;
  const most = enough * (samples.length / 4);
  let sum = 0;
  // Every third point first: most places are out of the question soon.
  for (let phase = 0; phase < 3; phase += 1) {
    for (let k = phase * 4; k < samples.length; k += 12) {
      const sx = samples[k] as number;
      const sy = samples[k + 1] as number;
      const apart =
        holeAt(map, piece.a * sx + piece.c * sy + piece.x, piece.b * sx + piece.d * sy + piece.y) -
        (samples[k + 2] as number) * piece.scale;
      const lacking = (gap - apart) / gap;
      if (lacking > 0) sum += lacking * lacking;
    }
    if (sum > most) return Infinity;
  }
  return sum / (samples.length / 4);
}

/** How near its own kind stands, in what would be its even distance. */
export function nearAlike(
  piece: Pick<Piece, "x" | "y">,
  sameKind: readonly Piece[],
  { space, expected }: Pick<Seating, "space" | "expected">,
): number {
  const even = 0.95 * Math.sqrt((space.width * space.height) / Math.max(1, expected));
  let sum = 0;
  for (const other of sameKind) {
    const moves = movesNear(space, other.x - piece.x, other.y - piece.y, even);
    for (let m = 0; m < moves.length; m += 2) {
      const dx = other.x - piece.x + (moves[m] as number);
      const dy = other.y - piece.y + (moves[m + 1] as number);
      sum += 1 - Math.sqrt(dx * dx + dy * dy) / even;
    }
  }
  return sum;
}

/** Whether turned like this a piece keeps clear of its own copies, as far as its circle tells. */
export function isStiff(ask: Ask, scale: number, space: Space, gap: number): boolean {
  if (ask.turns.kind === "list") return true;
  return movesNear(space, 0, 0, 2 * ask.kind.radius * scale + gap).length > 2;
}

/** The best places and turns for a new piece of a kind, best first; `better` is how many. */
export function findSeats(ask: Ask, scale: number, seating: Seating, better: number): readonly Seat[] {
  const { pieces, map, gap, random, space } = seating;
  const sameKind = pieces.filter((piece) => piece.asked === ask.index);
  const mirroredNow = sameKind.filter((piece) => piece.mirrored).length;
  const mirrored = ask.flip && 2 * mirroredNow < sameKind.length + (sameKind.length % 2 === 0 ? 0 : 1);
  const stiff = isStiff(ask, scale, space, gap);
  const seats: Seat[] = [];
  const made: NewPiece = {
    ...{ kind: ask.kind, asked: ask.index, turns: ask.turns, mirrored, stiff },
    ...{ x: 0, y: 0, turn: 0, scale },
  };
  // One piece is held into every place and turn.
  const tried = makePiece(made);
  for (const [x, y] of placesOf(seating)) {
    tried.x = x;
    tried.y = y;
    const alike = ALIKE * nearAlike(tried, sameKind, seating) + LONELY * (1 - holeAt(map, x, y) / map.far);
    let [least, at] = [Infinity, Number.NaN];
    for (const turn of turnsOf(ask, random)) {
      const extra = alike + DIRECTION * crowding(turn, sameKind, ask);
      if (extra >= least) continue;
      setPose(tried, turn, scale);
      if (stiff && meetsItself(tried, space, gap)) continue;
      const misfit = misfitOf(tried, map, gap, least - extra) + extra;
      if (misfit < least) [least, at] = [misfit, turn];
    }
    if (least === Infinity) continue;
    const besides = alike + DIRECTION * crowding(at, sameKind, ask);
    seats.push({ piece: makePiece({ ...made, x, y, turn: at }), misfit: least - besides, worth: least });
  }
  return seats.sort((one, other) => one.worth - other.worth).slice(0, better);
}
