import type { Ask } from "./asked.js";
import { type PlacedLines, placeLines, toLines } from "./exact.js";
import { findExactPairs } from "./finish.js";
import { type HoleMap, listHoles, mapHoles } from "./hole-map.js";
import { BESIDE, type Piece } from "./piece.js";
import type { TossedMotif, TossFacts } from "./result.js";
import { movesNear, type Space, wrap } from "./space.js";

/** Neighbours are looked for up to so many gaps away. */
const NEIGHBOUR_GAPS = 4;
const HOLE_POINTS = 24_000;

const nameOf = (piece: Piece): string => piece.kind.motif.name;

/** Says what a toss reached; pieces that stand already count as neighbours. */
export function measureToss(
  pieces: readonly Piece[],
  asked: readonly Ask[],
  space: Space,
  gap: number,
): TossFacts {
  let pairs = findExactPairs(pieces, space, NEIGHBOUR_GAPS * gap);
  const own = pieces.filter((piece) => piece.asked !== BESIDE);
  if (pairs.length < own.length) {
    // Few and far between: as far as from one to the next.
    const even = Math.sqrt((space.width * space.height) / Math.max(1, own.length));
    pairs = findExactPairs(pieces, space, Math.max(NEIGHBOUR_GAPS * gap, 1.5 * even));
  }
  const nearest = new Map<Piece, { readonly apart: number; readonly alike: boolean }>();
  for (const { one, other, contact } of pairs) {
    const alike = nameOf(one) === nameOf(other);
    for (const piece of [one, other]) {
      if (piece.fixed || contact.apart >= (nearest.get(piece)?.apart ?? Infinity)) continue;
      nearest.set(piece, { apart: contact.apart, alike });
    }
  }
  const gaps = [...nearest.values()].map((one) => one.apart);
  const mean = gaps.length === 0 ? 0 : gaps.reduce((sum, one) => sum + one, 0) / gaps.length;
  const squares = gaps.reduce((sum, one) => sum + (one - mean) * (one - mean), 0);
  const closest = pairs.reduce<(typeof pairs)[number] | undefined>(
    (least, pair) => (least === undefined || pair.contact.apart < least.contact.apart ? pair : least),
    undefined,
  );
  const cover = own.reduce((sum, { kind, scale }) => sum + kind.area * scale * scale, 0);
  const [smallX, smallY] = closest === undefined ? [0, 0] : wrap(space, closest.contact.x, closest.contact.y);
  return {
    gap,
    smallest:
      closest === undefined
        ? undefined
        : {
            gap: closest.contact.apart,
            between: [nameOf(closest.one), nameOf(closest.other)],
            x: smallX,
            y: smallY,
          },
    nearest: { mean, deviation: gaps.length === 0 ? 0 : Math.sqrt(squares / gaps.length) },
    hole: widestHole(mapWidely(pieces, { ...space, lean: 0 }, NEIGHBOUR_GAPS * gap), pieces),
    covered: Math.min(1, cover / (space.width * space.height)),
    motifs: asked.map((ask) => countMotif(ask, pieces, asked)),
    alike: [...nearest.values()].filter((one) => one.alike).length,
  };
}

/** A map that reaches to the middle of the widest hole. */
function mapWidely(pieces: readonly Piece[], space: Space, first: number): HoleMap {
  const diagonal = Math.sqrt(space.width * space.width + space.height * space.height);
  for (let far = first; ; far *= 2) {
    const map = mapHoles(space, pieces, Math.min(far, diagonal), HOLE_POINTS);
    if (far >= diagonal || !map.values.some((apart) => apart === map.far)) return map;
  }
}

/** Places of the map that are held against the lines themselves. */
const HOLES_HELD = 16;

/** The widest circle about the best places of the map, measured by lines: the map tells places, not sizes. */
function widestHole(map: HoleMap, pieces: readonly Piece[]): TossFacts["hole"] {
  const { space } = map;
  const lines = pieces.map((piece) => ({ piece, lines: placeLines(piece) }));
  let widest = { diameter: 0, x: 0, y: 0 };
  for (const { x, y } of listHoles(map, HOLES_HELD)) {
    const rim = space.edges === undefined ? Infinity : Math.min(y, space.height - y);
    const least = lines.reduce((found, one) => nearestLine(one, space, x, y, found), Math.min(rim, map.far));
    if (2 * least > widest.diameter) widest = { diameter: 2 * least, x, y };
  }
  return widest;
}

/** The distance from a place to a piece and its copies, if less than `below`. */
function nearestLine(
  { piece, lines }: { readonly piece: Piece; readonly lines: PlacedLines },
  space: Space,
  x: number,
  y: number,
  below: number,
): number {
  let least = below;
  const moves = movesNear(space, piece.x - x, piece.y - y, piece.radius + below);
  for (let m = 0; m < moves.length; m += 2) {
    least = Math.min(least, toLines(lines, x - (moves[m] as number), y - (moves[m + 1] as number)));
  }
  return least;
}

function countMotif(ask: Ask, pieces: readonly Piece[], asked: readonly Ask[]): TossedMotif {
  const peers = asked.filter((one) => one.filler === ask.filler);
  const shares = peers.reduce((sum, one) => sum + one.share, 0);
  const of = (one: Ask) => pieces.filter((piece) => piece.asked === one.index).length;
  const all = peers.reduce((sum, one) => sum + of(one), 0);
  return {
    motif: ask.kind.motif.name,
    count: of(ask),
    asked: ask.share / shares,
    reached: all === 0 ? 0 : of(ask) / all,
    filler: ask.filler,
  };
}
