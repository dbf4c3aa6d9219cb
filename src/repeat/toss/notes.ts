import type { Note } from "../../errors.js";
import type { Ask } from "./asked.js";
import { freePart } from "./fill.js";
import { findExactPairs } from "./finish.js";
import type { Piece } from "./piece.js";
import type { TossFacts } from "./result.js";
import type { Space } from "./space.js";

/** What was asked and what stood already, to say what could not be held. */
export interface Told {
  readonly asked: readonly Ask[];
  readonly count: number | undefined;
  readonly space: Space;
  /** Motifs that stand in the same cell or band. */
  readonly placed: readonly Piece[];
  /** Motifs of other bands over the same cloth. */
  readonly beside: readonly Piece[];
}

/** What could not be held, and what would do. */
export function noteToss(facts: TossFacts, told: Told): readonly Note[] {
  return [
    ...noteShares(facts, told.asked),
    ...noteCount(facts, told.count),
    ...noteStanding(told.placed, told.space, facts.gap),
    ...noteBeside(facts, told),
  ];
}

const percent = (part: number): string => `${Math.round(part * 100)} %`;

/** A share that is off by more than one motif was not held. */
function noteShares({ motifs }: TossFacts, asked: readonly Ask[]): readonly Note[] {
  return motifs.flatMap((one, index): readonly Note[] => {
    const peers = motifs.filter((other) => other.filler === one.filler);
    const all = peers.reduce((sum, other) => sum + other.count, 0);
    const wanted = all * one.asked;
    const name = asked[index]?.kind.motif.name ?? one.motif;
    if (one.count === 0 && !one.filler && all > 0 && wanted < 1) {
      return [
        {
          level: "warning",
          code: "N_TOSS_SHARE",
          message: `there is no ${name}: its share of ${all} motifs comes to less than one`,
          where: name,
        },
      ];
    }
    if (one.count === 0) {
      return [
        {
          level: "warning",
          code: "N_TOSS_ROOM",
          message: `there was no room for ${name}: a smaller width or a smaller gap would make some`,
          where: name,
        },
      ];
    }
    if (one.filler || Math.abs(one.count - wanted) <= 1.5) return [];
    return [
      {
        level: "info",
        code: "N_TOSS_SHARE",
        message: `${name} makes up ${percent(one.reached)} of the motifs in place of ${percent(one.asked)}: there was no room for another share of it`,
        where: name,
      },
    ];
  });
}

function noteCount({ motifs, gap }: TossFacts, count: number | undefined): readonly Note[] {
  const stand = motifs.filter((one) => !one.filler).reduce((sum, one) => sum + one.count, 0);
  if (count === undefined || stand >= count) return [];
  return [
    {
      level: "warning",
      code: "N_TOSS_COUNT",
      message: `${stand} of ${count} motifs have room with gaps of ${Number(gap.toFixed(2))} mm: a smaller gap, smaller widths or a larger repeat would hold more`,
    },
  ];
}

/** Motifs of other bands that take the room of some that were asked. */
function noteBeside(facts: TossFacts, { count, space, beside }: Told): readonly Note[] {
  const lacks = facts.motifs.some((one) => one.count === 0) || noteCount(facts, count).length > 0;
  if (beside.length === 0 || !lacks) return [];
  const taken = 1 - freePart({ space, standing: beside, gap: facts.gap });
  return [
    {
      level: "warning",
      code: "N_TOSS_BESIDE",
      message: `motifs of other bands take ${percent(taken)} of this one, with half a gap around them: ${namesOf(beside).slice(0, 3).join("; ")}; where both bands have one period, or lie farther apart, they take less`,
    },
  ];
}

const namesOf = (pieces: readonly Piece[]): readonly string[] => [
  ...new Set(pieces.map((piece) => piece.kind.motif.name)),
];

/** Motifs that stand already may be nearer to each other than the gap: theirs to keep, but said. */
function noteStanding(placed: readonly Piece[], space: Space, gap: number): readonly Note[] {
  const loose = placed.map((piece) => ({ ...piece, fixed: false }));
  const pairs = findExactPairs(loose, space, gap);
  const names = [
    ...new Set(pairs.map(({ one, other }) => `${one.kind.motif.name} and ${other.kind.motif.name}`)),
  ];
  if (names.length === 0) return [];
  return [
    {
      level: "info",
      code: "N_TOSS_AROUND",
      message: `motifs placed by hand are nearer to each other than the gap, and were left so: ${names.slice(0, 3).join("; ")}`,
    },
  ];
}
