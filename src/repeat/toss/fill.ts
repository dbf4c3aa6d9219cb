import { type Ask, MOST_TOSSED } from "./asked.js";
import { breakRows } from "./break-rows.js";
import { evenRows } from "./even-rows.js";
import { addToMap, type HoleMap, mapHoles } from "./hole-map.js";
import { type Piece, poseOf, takePose } from "./piece.js";
import type { Random } from "./random.js";
import { findSeats, type Seating } from "./seat.js";
import { lackOf, settle } from "./settle.js";
import type { Space } from "./space.js";

/** What a toss works on. Lengths in mm. */
export interface Filling {
  readonly space: Space;
  readonly asked: readonly Ask[];
  readonly standing: readonly Piece[];
  readonly gap: number;
  readonly ease: number;
  readonly count: number | undefined;
  readonly random: Random;
}

/** So much of the space, with half a gap around each motif, is filled before any is squeezed in. */
const FIRST_FILL = 0.74;
const MAP_POINTS = 12_000;
/** A lack of so much of a gap is mended when outlines are held against each other exactly. */
const GOOD = 0.03;
const ROW_STEPS = 12;
const GOLDEN = (Math.sqrt(5) - 1) / 2;

/** The next motif by shares: the highest averages of A. Sainte-Laguë (1910), so that every count on the way is fair. */
function nextByShare(asks: readonly Ask[], countOf: (ask: Ask) => number): Ask | undefined {
  let best: Ask | undefined;
  let least = Infinity;
  for (const ask of asks) {
    const quotient = (countOf(ask) + 0.5) / ask.share;
    if (quotient < least) {
      least = quotient;
      best = ask;
    }
  }
  return best;
}

/** How many of a motif stand. */
const countIn =
  (pieces: readonly Piece[]) =>
  (ask: Ask): number =>
    pieces.reduce((count, piece) => (piece.asked === ask.index ? count + 1 : count), 0);

/** A scale between the smallest and the largest; in the order in which they come, evenly spread. */
function nextScale({ smallest, largest }: Ask, standing: number): number {
  const at = (0.5 + standing * GOLDEN) % 1;
  return smallest + (largest - smallest) * at;
}

/** The part of the space that is not within half a gap of what stands, 0 to 1. */
export function freePart({ space, standing, gap }: Pick<Filling, "space" | "standing" | "gap">): number {
  if (standing.length === 0) return 1;
  const open = { ...space, edges: undefined, lean: 0 };
  const { values } = mapHoles(open, standing, gap, MAP_POINTS);
  return values.filter((apart) => apart > gap / 2).length / values.length;
}

/** How many motifs the space takes to the first fill. */
export function estimateCount(
  filling: Pick<Filling, "space" | "standing" | "gap">,
  asks: readonly Ask[],
): number {
  const { space } = filling;
  const free = freePart(filling) * space.width * space.height;
  const shares = asks.reduce((sum, { share }) => sum + share, 0);
  const each = asks.reduce((sum, { share, kind, smallest, largest }) => {
    const scale = (smallest + largest) / 2;
    return sum + (share / shares) * kind.footprint * scale * scale;
  }, 0);
  return (FIRST_FILL * free) / each;
}

function seatingOf(
  filling: Filling,
  pieces: readonly Piece[],
  ask: Ask,
  total: number,
  places: number,
  map?: HoleMap,
): Seating {
  const shares = filling.asked
    .filter((one) => one.filler === ask.filler)
    .reduce((sum, one) => sum + one.share, 0);
  const far = filling.gap + Math.max(filling.ease, ask.kind.radius * ask.largest * 0.8);
  return {
    ...{ space: filling.space, gap: filling.gap, random: filling.random, pieces, places },
    map: map ?? mapHoles(filling.space, pieces, far, MAP_POINTS),
    expected: Math.max(1, (total * ask.share) / shares),
  };
}

/** Seats the first motifs, the largest first, each where it fits best, and lets them settle; what cannot is taken out. */
function startFill(filling: Filling, asks: readonly Ask[], total: number): Piece[] {
  const { standing, space, gap, ease } = filling;
  const drawn: { readonly ask: Ask; readonly scale: number }[] = [];
  const countDrawn = (ask: Ask) => drawn.filter((one) => one.ask === ask).length;
  for (let k = 0; k < total; k += 1) {
    const ask = nextByShare(asks, countDrawn);
    if (ask !== undefined) drawn.push({ ask, scale: nextScale(ask, countDrawn(ask)) });
  }
  drawn.sort((one, other) => other.scale * other.ask.kind.radius - one.scale * one.ask.kind.radius);
  const pieces: Piece[] = [...standing];
  const reach = drawn.reduce((most, { ask, scale }) => Math.max(most, ask.kind.radius * scale), 0);
  const map = mapHoles(space, standing, gap + Math.max(ease, 0.8 * reach), MAP_POINTS);
  for (const { ask, scale } of drawn) {
    const [seat] = findSeats(ask, scale, seatingOf(filling, pieces, ask, total, 24, map), 1);
    if (seat === undefined) continue;
    pieces.push(seat.piece);
    addToMap(map, seat.piece);
  }
  evenRows(pieces, space, ROW_STEPS, 4 * gap);
  settle(pieces, { space, gap, ease, sweeps: 36 });
  while (pieces.length > standing.length) {
    const lacks = lackOf(pieces, space, gap);
    const worst = pieces.reduce<Piece | undefined>(
      (most, piece) =>
        !piece.fixed && (lacks.get(piece) ?? 0) > (most === undefined ? 0 : (lacks.get(most) ?? 0))
          ? piece
          : most,
      undefined,
    );
    if (worst === undefined || (lacks.get(worst) ?? 0) <= GOOD * gap) break;
    pieces.splice(pieces.indexOf(worst), 1);
    settle(pieces, { space, gap, ease, sweeps: 8 });
  }
  return pieces;
}

/** While a piece is squeezed in, only those beside it are looked at. */
const BESIDE = 1.05;

/** Tries to squeeze a piece in: its neighbours give way, or everything goes back. */
function squeezeIn(filling: Filling, pieces: Piece[], piece: Piece, sweeps: number): boolean {
  const { space, gap } = filling;
  const before = pieces.map(poseOf);
  pieces.push(piece);
  const lack = settle(pieces, { space, gap, ease: gap * BESIDE, sweeps, awake: new Set([piece]) });
  if (lack <= GOOD * gap) return true;
  pieces.pop();
  for (const [index, pose] of before.entries()) takePose(pieces[index] as Piece, pose);
  return false;
}

/** A misfit above this is not worth a try. */
const HOPELESS = 0.9;

/** Squeezes in more motifs by their shares, until the next one fits nowhere. */
function addByShare(filling: Filling, pieces: Piece[], asks: readonly Ask[], most: number): void {
  const own = () => pieces.filter((piece) => !piece.fixed && !filling.asked[piece.asked]?.filler).length;
  let failed = 0;
  while (own() < most && failed < 2) {
    const ask = nextByShare(asks, countIn(pieces));
    if (ask === undefined) return;
    const before = countIn(pieces)(ask);
    const scale = failed === 0 ? nextScale(ask, before) : ask.smallest;
    const seating = seatingOf(filling, pieces, ask, own() + 1, 40);
    const seats = findSeats(ask, scale, seating, 3);
    const fits = seats.some(
      ({ piece, misfit }) => misfit < HOPELESS && squeezeIn(filling, pieces, piece, 30),
    );
    failed = fits ? 0 : failed + 1;
  }
}

/** Fills what is left with fillers, the largest that fits each hole. */
function addFillers(filling: Filling, pieces: Piece[], asks: readonly Ask[]): void {
  let open = [...asks];
  while (open.length > 0 && pieces.length < filling.standing.length + MOST_TOSSED) {
    const ask = nextByShare(open, countIn(pieces));
    if (ask === undefined) return;
    const standing = countIn(pieces)(ask);
    const fits = [ask.largest, (ask.largest + ask.smallest) / 2, ask.smallest].some(
      (scale, index, scales) => {
        if (index > 0 && scale === scales[index - 1]) return false;
        const seats = findSeats(ask, scale, seatingOf(filling, pieces, ask, standing + 2, 40), 2);
        return seats.some(({ piece, misfit }) => misfit < HOPELESS && squeezeIn(filling, pieces, piece, 14));
      },
    );
    if (!fits) open = open.filter((one) => one !== ask);
  }
}

/** Fills the space: first the motifs that have a share, then the fillers, easing all in between. */
export function fill(filling: Filling): Piece[] {
  const { space, gap, ease } = filling;
  const { others, fillers, most } = groupsOf(filling);
  const first = Math.min(most, Math.max(1, Math.floor(estimateCount(filling, others))));
  const pieces = startFill(filling, others, first);
  const relax = (sweeps: number) => settle(pieces, { space, gap, ease, sweeps });
  addByShare(filling, pieces, others, most);
  relax(16);
  addByShare(filling, pieces, others, most);
  evenRows(pieces, space, ROW_STEPS, gap);
  relax(24);
  breakRows(pieces, { space, gap, ease: gap * BESIDE, good: GOOD * gap });
  addFillers(filling, pieces, fillers);
  relax(24);
  addFillers(filling, pieces, fillers);
  relax(24);
  return pieces;
}

/** Adds what still has room, fillers only or all; tells whether anything had. */
export function topUp(filling: Filling, pieces: Piece[], fillersOnly: boolean): boolean {
  const { others, fillers, most } = groupsOf(filling);
  const before = pieces.length;
  if (!fillersOnly) addByShare(filling, pieces, others, most);
  addFillers(filling, pieces, fillers);
  return pieces.length > before;
}

function groupsOf({ asked, count }: Filling): {
  readonly others: readonly Ask[];
  readonly fillers: readonly Ask[];
  readonly most: number;
} {
  return {
    others: asked.filter((one) => !one.filler),
    fillers: asked.filter((one) => one.filler),
    most: count ?? MOST_TOSSED,
  };
}
