import { acrossOf, findContact } from "./contact.js";
import { type Piece, setPose } from "./piece.js";
import { movesNear, type Space } from "./space.js";
import { keepTurn } from "./turns.js";

/** Two pieces that may meet: the other one moved by a lattice vector. */
export interface Pair {
  readonly one: Piece;
  readonly other: Piece;
  readonly mx: number;
  readonly my: number;
}

/** How pieces are set apart. Lengths in mm. */
export interface Settling {
  readonly space: Space;
  /** The distance that is held; pieces nearer than this are pushed apart with all strength. */
  readonly gap: number;
  /** Up to this far neighbours ease each other away, so that gaps come out even; at least `gap`. */
  readonly ease: number;
  readonly sweeps: number;
  /** Only these move or are looked at, and whom they push; all, where it is missing. */
  readonly awake?: Set<Piece>;
}

/** Pairs are listed for as far as pieces may come in so many sweeps. */
const LISTED_FOR = 6;
const STIFFNESS = 0.7;
const EASE_STIFFNESS = 0.18;

export function listPairs(
  pieces: readonly Piece[],
  space: Space,
  within: number,
  awake?: ReadonlySet<Piece>,
): readonly Pair[] {
  const pairs: Pair[] = [];
  for (const [index, one] of pieces.entries()) {
    for (let k = index; k < pieces.length; k += 1) {
      const other = pieces[k] as Piece;
      if (one.fixed && other.fixed) continue;
      if (awake !== undefined && !awake.has(one) && !awake.has(other)) continue;
      const reach = one.radius + other.radius + within;
      const moves = movesNear(space, other.x - one.x, other.y - one.y, reach);
      for (let m = 0; m < moves.length; m += 2) {
        const [mx, my] = [moves[m] as number, moves[m + 1] as number];
        // Its own copies push a piece both ways at once: only its turn could mend that.
        if (k !== index) pairs.push({ one, other, mx, my });
      }
    }
  }
  return pairs;
}

/** A large piece is heavy. */
const massOf = (piece: Piece): number => piece.radius * piece.radius;
/** For a disc it would be half. */
const INERTIA = 0.35;
const DEGREES = 180 / Math.PI;

/** Moves and turns a piece by a push of strength `push` along (nx, ny) at (x, y). */
export function pushPiece(piece: Piece, push: number, nx: number, ny: number, x: number, y: number): void {
  if (piece.fixed) return;
  const mass = massOf(piece);
  const lever = (x - piece.x) * ny - (y - piece.y) * nx;
  piece.x += (nx * push) / mass;
  piece.y += (ny * push) / mass;
  if (piece.stiff) return;
  const inertia = INERTIA * mass * piece.radius * piece.radius;
  const turn = ((lever * push) / inertia) * DEGREES;
  setPose(piece, keepTurn(piece.turns, piece.turn + Math.max(-6, Math.min(6, turn))), piece.scale);
}

/** How easily a piece gives way to a push at (x, y). */
export function yieldOf(piece: Piece, nx: number, ny: number, x: number, y: number): number {
  if (piece.fixed) return 0;
  const mass = massOf(piece);
  if (piece.stiff) return 1 / mass;
  const lever = (x - piece.x) * ny - (y - piece.y) * nx;
  return 1 / mass + (lever * lever) / (INERTIA * mass * piece.radius * piece.radius);
}

/** Sets one pair apart; tells by how much it was too near. */
function partPair({ one, other, mx, my }: Pair, { gap, ease }: Settling): number {
  const contact = findContact(one, other, mx, my, ease);
  if (contact === undefined) return 0;
  const { apart, x, y, nx, ny } = contact;
  const lacking = gap - apart;
  const close = (ease - apart) / ease;
  const wanted = lacking > 0 ? lacking * STIFFNESS : (ease - gap) * EASE_STIFFNESS * close * close;
  const [ox, oy] = [x - mx, y - my];
  const give = yieldOf(one, nx, ny, x, y) + yieldOf(other, nx, ny, ox, oy);
  if (give > 0 && wanted > 0) {
    // No step passes a gap: places change under the push.
    const push = Math.min(wanted, gap) / give;
    pushPiece(one, push, nx, ny, x, y);
    pushPiece(other, -push, nx, ny, ox, oy);
  }
  return Math.max(0, lacking);
}

/** Keeps a piece inside of a band, or its middle where motifs may lean out; tells by how much it was outside. */
function keepAcross(piece: Piece, space: Space): number {
  if (space.v !== undefined || piece.fixed) return 0;
  if (space.edges === undefined) {
    piece.y = Math.min(space.height, Math.max(0, piece.y));
    return 0;
  }
  const { keep } = space.edges;
  const { top, topX, bottom, bottomX } = acrossOf(piece);
  const [above, below] = [keep - top, bottom - (space.height - keep)];
  const press = (amount: number, x: number, y: number, ny: number) => {
    pushPiece(piece, amount / yieldOf(piece, 0, ny, x, y), 0, ny, x, y);
  };
  if (above > 0) press(above, topX, top, 1);
  if (below > 0) press(below, bottomX, bottom, -1);
  return Math.max(0, above, below);
}

/**
 * Lets pieces settle: again and again each pair that is too near is moved apart and turned at the place where it is
 * nearest, the lighter one more, and wider neighbours ease each other away. Returns the worst lack of distance met in
 * the last sweep, in mm. (Position-based dynamics: M. Müller et al. 2007; pushing shapes apart by their distance
 * fields to pack them: R. Saputra, C. S. Kaplan, P. Asente, "RepulsionPak", 2018; both from memory.)
 */
export function settle(pieces: readonly Piece[], settling: Settling): number {
  const { space, gap, ease, sweeps, awake } = settling;
  let worst = 0;
  let pairs: readonly Pair[] = [];
  let listed = 0;
  for (let sweep = 0; sweep < sweeps; sweep += 1) {
    if (sweep % LISTED_FOR === 0 || (awake?.size ?? 0) > listed) {
      pairs = listPairs(pieces, space, ease + gap, awake);
      listed = awake?.size ?? 0;
    }
    worst = 0;
    for (const pair of pairs) {
      const lacking = partPair(pair, settling);
      worst = Math.max(worst, lacking);
      if (awake !== undefined && lacking > WAKES * gap) awake.add(pair.one).add(pair.other);
    }
    for (const piece of pieces) {
      if (awake !== undefined && !awake.has(piece)) continue;
      worst = Math.max(worst, keepAcross(piece, space));
    }
    if (awake === undefined) continue;
    if (worst <= WAKES * gap || isHopeless(worst / gap, (sweep + 1) / sweeps)) break;
  }
  return worst;
}

/** Whether a squeeze that lacks so many gaps after so much of its time is given up. */
const isHopeless = (lack: number, done: number): boolean =>
  (done > 0.25 && lack > 0.7) || (done > 0.5 && lack > 0.3) || (done > 0.75 && lack > 0.12);

/** A lack of so much of a gap wakes a neighbour, and is too small to be worth another sweep. */
const WAKES = 0.02;

/** By how much each piece lacks distance to others, in mm, summed over its neighbours; only those that do. */
export function lackOf(pieces: readonly Piece[], space: Space, gap: number): ReadonlyMap<Piece, number> {
  const lacks = new Map<Piece, number>();
  for (const { one, other, mx, my } of listPairs(pieces, space, gap)) {
    const contact = findContact(one, other, mx, my, gap);
    if (contact === undefined) continue;
    for (const piece of [one, other]) lacks.set(piece, (lacks.get(piece) ?? 0) + gap - contact.apart);
  }
  return lacks;
}
