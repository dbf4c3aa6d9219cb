import { decay } from "./decay.js";
import { type Piece, poseOf, takePose } from "./piece.js";
import { nearAlike } from "./seat.js";
import { type Settling, settle } from "./settle.js";
import type { Space } from "./space.js";
import { cosineAndSine, keepTurn } from "./turns.js";
import { type Likes, likesOf, type Wave, wavesOf } from "./waves.js";

/** What lets two pieces change places. Lengths in mm. */
export interface Breaking {
  readonly space: Space;
  readonly gap: number;
  /** While two change places, neighbours are eased away up to this. */
  readonly ease: number;
  /** A lack of distance that is good enough. */
  readonly good: number;
}

/** A kind with fewer pieces makes no rows of its own. */
const FEWEST = 4;
/** Fewer waves than these tell nothing of their directions. */
const LEAST_WAVES = 12;
const MOST_WAVES = 100;

/**
 * A direction shows where it has so much of all the power that is seen of a kind, and its strongest wave so many times
 * the amplitude of those of like size in other directions (the same as where a finished print is looked at for stripes).
 */
const SHARE = 0.15;
const EXCESS = 2.6;

/** Rows that show less than this, where 1 is a stripe, are left: several kinds together may add to it. */
const CALM = 0.5;
/** Two of which one is larger by more than this factor do not change places. */
const LIKE_SIZE = 1.35;
const MOST_CHANGES = 40;
/** Coming as near to one of its own kind as can be, in their even distance, outweighs so much of what is gained. */
const CROWDED = 0.08;
/** Changes that are tried for the worst kind before it is left, and for all together. */
const TRIES = 24;
const MOST_TRIES = 240;
/** Of more pairs than these only some are weighed, others each time. */
const MOST_WEIGHED = 800;
const SWEEPS = 30;

/** Pieces of one kind, and how much of a wave such a piece shows. */
interface Group {
  readonly members: readonly Piece[];
  readonly shows: Float64Array;
}

/** The sum over a group of what each piece adds to each wave: flat cosine and sine. */
type Sums = Float64Array;

/**
 * Breaks up rows: where a kind has too much of its power in one direction, a piece of it changes places with one of
 * another kind and of like size, wherever both fit between their new neighbours.
 */
export function breakRows(pieces: readonly Piece[], breaking: Breaking): void {
  const { space } = breaking;
  const movers = pieces.filter((piece) => !piece.fixed);
  const shortest = Math.sqrt((space.width * space.height) / Math.max(1, movers.length));
  const waves = wavesOf(space, shortest).slice(0, MOST_WAVES);
  if (waves.length < LEAST_WAVES) return;
  const likes = likesOf(waves);
  const groups = groupPieces(movers, waves);
  const left = new Set<number>();
  let tries = 0;
  for (let change = 0; change < MOST_CHANGES; change += 1) {
    const turns = new Map(movers.map((piece) => [piece, turnsAt(piece, waves)]));
    const sums = new Map([...groups].map(([asked, group]) => [asked, sumOf(group, turns)]));
    const showing = [...groups]
      .map(([asked, { shows }]) => ({ asked, shown: showOf(sums.get(asked) as Sums, shows, likes) }))
      .filter(({ asked, shown }) => shown > CALM && !left.has(asked))
      .sort((one, other) => other.shown - one.shown);
    const worst = showing[0];
    if (worst === undefined) return;
    const changes = listChanges(worst.asked, { space, groups, sums, turns, likes, movers }, change);
    const done = changes.slice(0, Math.min(TRIES, MOST_TRIES - tries)).some(([one, other]) => {
      tries += 1;
      return changePlaces(one, other, pieces, breaking);
    });
    if (!done) left.add(worst.asked);
  }
}

function groupPieces(movers: readonly Piece[], waves: readonly Wave[]): ReadonlyMap<number, Group> {
  const groups = new Map<number, Group>();
  for (const { asked } of movers) {
    if (groups.has(asked)) continue;
    const members = movers.filter((piece) => piece.asked === asked);
    if (members.length < FEWEST) continue;
    const area = members.reduce((sum, piece) => sum + areaOf(piece), 0) / members.length;
    // The power that a disc of this area shows of a wave, nearly.
    const shows = waves.map(([kx, ky]) => decay(2 * Math.PI * area * (kx * kx + ky * ky)));
    groups.set(asked, { members, shows: Float64Array.from(shows) });
  }
  return groups;
}

const areaOf = ({ kind, scale }: Piece): number => kind.area * scale * scale;

function turnsAt({ x, y }: Piece, waves: readonly Wave[]): Float64Array {
  return Float64Array.from(waves.flatMap(([kx, ky]) => [...cosineAndSine(360 * (kx * x + ky * y))]));
}

type Turned = ReadonlyMap<Piece, Float64Array>;

function sumOf({ members }: Group, turns: Turned): Sums {
  const sums = new Float64Array(turns.get(members[0] as Piece)?.length ?? 0);
  for (const piece of members) addTo(sums, turns.get(piece) as Float64Array, areaOf(piece));
  return sums;
}

function addTo(sums: Sums, turned: Float64Array, weight: number): void {
  for (let w = 0; w < sums.length; w += 1) sums[w] = (sums[w] as number) + weight * (turned[w] as number);
}

/** How much the rows of a group show, in the direction in which they show most: a stripe from 1 on. */
function showOf(sums: Sums, shows: Float64Array, { along, beside }: Likes): number {
  const powers = shows.map((part, w) => {
    const [cosine, sine] = [sums[2 * w] as number, sums[2 * w + 1] as number];
    return part * (cosine * cosine + sine * sine);
  });
  const sumAt = (waves: readonly number[]) => {
    let sum = 0;
    for (const w of waves) sum += powers[w] as number;
    return sum;
  };
  const all = powers.reduce((sum, power) => sum + power, 0);
  let most = 0;
  for (let w = 0; w < powers.length; w += 1) {
    const share = sumAt(along[w] ?? []) / (SHARE * all);
    if (!(share > most)) continue;
    const others = beside[w] ?? [];
    const excess = Math.sqrt(((powers[w] as number) * others.length) / sumAt(others)) / EXCESS;
    most = Math.max(most, Math.min(share, excess));
  }
  return most;
}

/** What is known of all groups while changes are weighed. */
interface Known {
  readonly space: Space;
  readonly groups: ReadonlyMap<number, Group>;
  readonly sums: ReadonlyMap<number, Sums>;
  readonly turns: Turned;
  readonly likes: Likes;
  readonly movers: readonly Piece[];
}

/** Pairs of which one is of the asked kind, that would make rows show less, those that gain most first. */
function listChanges(asked: number, known: Known, round: number): readonly (readonly [Piece, Piece])[] {
  const { space, groups, sums, turns, likes, movers } = known;
  const own = groups.get(asked);
  const before = sums.get(asked);
  if (own === undefined || before === undefined) return [];
  const badly = (shown: number) => Math.max(0, shown - CALM / 2) * Math.max(0, shown - CALM / 2);
  const was = badly(showOf(before, own.shows, likes));
  const found: { readonly pair: readonly [Piece, Piece]; readonly gain: number }[] = [];
  const pairs = own.members.flatMap((one) =>
    movers
      .filter((other) => other.asked !== asked && isLike(one, other))
      .map((other) => [one, other] as const),
  );
  const stride = Math.ceil(pairs.length / MOST_WEIGHED);
  for (let k = round % Math.max(1, stride); k < pairs.length; k += stride) {
    const [one, other] = pairs[k] as readonly [Piece, Piece];
    const [here, there] = [turns.get(one) as Float64Array, turns.get(other) as Float64Array];
    const after = movedSums(before, here, there, areaOf(one));
    let gain = was - badly(showOf(after, own.shows, likes));
    if (gain <= 0) continue;
    const theirs = groups.get(other.asked);
    const sum = sums.get(other.asked);
    if (theirs !== undefined && sum !== undefined) {
      const next = movedSums(sum, there, here, areaOf(other));
      gain += badly(showOf(sum, theirs.shows, likes)) - badly(showOf(next, theirs.shows, likes));
    }
    if (gain > 0) found.push({ pair: [one, other], gain });
  }
  const byGain = (list: typeof found) => list.sort((one, other) => other.gain - one.gain);
  // How near their own kinds come takes longer to tell: only of the best.
  const best = byGain(found)
    .slice(0, 3 * TRIES)
    .map(({ pair, gain }) => ({ pair, gain: gain - CROWDED * crowding(pair, groups, space) }))
    .filter(({ gain }) => gain > 0);
  return byGain(best).map(({ pair }) => pair);
}

/** By how much nearer two come to their own kinds when they change places. */
function crowding([one, other]: readonly [Piece, Piece], groups: Known["groups"], space: Space): number {
  const nearAt = (piece: Piece, { x, y }: Piece): number => {
    const members = groups.get(piece.asked)?.members ?? [];
    const others = members.filter((member) => member !== piece);
    return nearAlike({ x, y }, others, { space, expected: members.length });
  };
  return nearAt(one, other) - nearAt(one, one) + nearAt(other, one) - nearAt(other, other);
}

const isLike = (one: Piece, other: Piece): boolean =>
  one.radius <= LIKE_SIZE * other.radius && other.radius <= LIKE_SIZE * one.radius;

function movedSums(sums: Sums, from: Float64Array, to: Float64Array, weight: number): Sums {
  const next = Float64Array.from(sums);
  addTo(next, from, -weight);
  addTo(next, to, weight);
  return next;
}

/** Lets two change places, as they are turned or as the other was, and their neighbours give way; or all goes back. */
function changePlaces(one: Piece, other: Piece, pieces: readonly Piece[], breaking: Breaking): boolean {
  const { space, gap, ease, good } = breaking;
  const before = pieces.map(poseOf);
  const [here, there] = [poseOf(one), poseOf(other)];
  for (const swapped of one.stiff || other.stiff ? [false] : [false, true]) {
    takePose(one, { ...there, turn: swapped ? keepTurn(one.turns, there.turn) : here.turn });
    takePose(other, { ...here, turn: swapped ? keepTurn(other.turns, here.turn) : there.turn });
    const settling: Settling = { space, gap, ease, sweeps: SWEEPS, awake: new Set([one, other]) };
    if (settle(pieces, settling) <= good) return true;
    for (const [index, pose] of before.entries()) takePose(pieces[index] as Piece, pose);
  }
  return false;
}
