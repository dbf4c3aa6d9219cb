import type { Ask } from "./asked.js";
import { findExactPairs } from "./finish.js";
import { listHoles, mapHoles } from "./hole-map.js";
import type { Piece } from "./piece.js";
import type { TossedMotif, TossFacts } from "./result.js";
import { type Space, wrap } from "./space.js";

/** Neighbours are looked for up to so many gaps away. */
const NEIGHBOUR_GAPS = 4;
const HOLE_POINTS = 40_000;

const nameOf = (piece: Piece): string => piece.kind.motif.name;

/** Says what a toss reached; pieces that stand already count as neighbours. */
export function measureToss(
  pieces: readonly Piece[],
  asked: readonly Ask[],
  space: Space,
  gap: number,
): TossFacts {
  const pairs = findExactPairs(pieces, space, NEIGHBOUR_GAPS * gap);
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
  const squares = gaps.reduce((sum, one) => sum + (one - mean) ** 2, 0);
  const closest = pairs.reduce<(typeof pairs)[number] | undefined>(
    (least, pair) => (least === undefined || pair.contact.apart < least.contact.apart ? pair : least),
    undefined,
  );
  const diagonal = Math.sqrt(space.width * space.width + space.height * space.height);
  const reach = pieces.reduce((most, { kind }) => Math.max(most, kind.distances.step), 0);
  const far = Math.min(diagonal, NEIGHBOUR_GAPS * gap + reach);
  const map = mapHoles(space, pieces, far, HOLE_POINTS);
  const [hole] = listHoles(map, 1);
  const cover = pieces.reduce((sum, { kind, scale }) => sum + kind.area * scale * scale, 0);
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
    hole: { diameter: 2 * (hole?.apart ?? 0), x: hole?.x ?? 0, y: hole?.y ?? 0 },
    covered: Math.min(1, cover / (space.width * space.height)),
    motifs: asked.map((ask) => countMotif(ask, pieces, asked)),
    alike: [...nearest.values()].filter((one) => one.alike).length,
  };
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
