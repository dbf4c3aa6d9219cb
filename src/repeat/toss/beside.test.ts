import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { border } from "../build/border.js";
import { place } from "../build/place.js";
import type { Band } from "../types.js";
import { type TossBand, toss } from "./index.js";
import { type Corner, cornersOf, distance } from "./outlines.fixture.js";
import { ANGLE, LEG, PIP } from "./toss.fixture.js";

const REPEAT = 180;
const MOTIFS = [
  { motif: LEG.motif, width: [14, 18] },
  { motif: PIP.motif, width: [4, 6], filler: true },
] as const;

/** What shows of a convex outline between two levels. */
function shown(outline: readonly Corner[], from: number, to: number): readonly Corner[] {
  const half = (corners: readonly Corner[], level: number, sign: number): readonly Corner[] =>
    corners.flatMap((corner, k): readonly Corner[] => {
      const next = corners[(k + 1) % corners.length] ?? corner;
      const [here, there] = [sign * (corner[1] - level), sign * (next[1] - level)];
      const t = here / (here - there);
      const cut: Corner = [corner[0] + t * (next[0] - corner[0]), level];
      return [...(here >= 0 ? [corner] : []), ...(here >= 0 !== there >= 0 ? [cut] : [])];
    });
  return half(half(outline, from, 1), to, -1);
}

/** All outlines that a band draws within a repeat on either side of the first one. */
function outlinesOf({ motifs, period, count, clip, from, to }: Band): readonly (readonly Corner[])[] {
  return motifs.flatMap((one) =>
    Array.from({ length: 3 * count }, (_, k) => {
      const moved = cornersOf(one).map(([x, y]): Corner => [x + (k - count) * period, y]);
      return clip ? shown(moved, from, to) : moved;
    }).filter((outline) => outline.length > 0),
  );
}

/** The smallest distance between what two bands draw. */
function between(one: Band, other: Band): number {
  const [ones, others] = [outlinesOf(one), outlinesOf(other)];
  const boxes = new Map([...ones, ...others].map((outline) => [outline, outline.map(([x]) => x)] as const));
  let least = Infinity;
  for (const a of ones) {
    if (Math.max(...(boxes.get(a) ?? [])) < -5 || Math.min(...(boxes.get(a) ?? [])) > REPEAT + 5) continue;
    for (const b of others) {
      const [p, q] = [boxes.get(a) ?? [], boxes.get(b) ?? []];
      if (Math.max(...p) + 8 < Math.min(...q) || Math.max(...q) + 8 < Math.min(...p)) continue;
      least = Math.min(least, distance(a, b));
    }
  }
  return least;
}

const bySide = fc.record({
  period: fc.constantFrom(180, 90, 45, 36),
  clip: fc.boolean(),
  x: fc.integer({ min: 0, max: 90 }),
  // How far its middle is from the limit, towards the tossed band.
  lean: fc.integer({ min: -12, max: 12 }),
  turn: fc.integer({ min: 0, max: 359 }),
  width: fc.integer({ min: 14, max: 30 }),
});

describe("a toss in a band", () => {
  it("keeps the gap to whatever the other bands draw over its cloth, at their own periods", () => {
    fc.assert(
      fc.property(
        fc.record({ upper: bySide, lower: bySide }),
        fc.constantFrom(180, 90, 70),
        fc.constantFrom("inside" as const, "free" as const),
        fc.constantFrom(2, 3),
        fc.nat({ max: 999 }),
        ({ upper, lower }, period, across, gap, seed) => {
          const stands = (side: typeof upper, y: number) =>
            // A cut outline must be convex, for the test's own measure.
            place(side.clip ? PIP.motif : ANGLE.motif, {
              at: [side.x, y],
              width: side.width,
              turn: side.turn,
            });
          const others = [
            { name: "upper", from: 0, to: 40, period: upper.period, clip: upper.clip },
            {
              name: "over",
              from: 55,
              to: 70,
              period: 90,
              motifs: [place(PIP.motif, { at: [30, 8], width: 9 })],
            },
            { name: "lower", from: 90, to: 130, period: lower.period, clip: lower.clip },
          ].map((band) => {
            if (band.name === "over") return band;
            return {
              ...band,
              motifs: [band.from === 0 ? stands(upper, 40 + upper.lean) : stands(lower, -lower.lean)],
            };
          });
          const frame = { name: "B", repeat: REPEAT, width: 130 };
          const beside = border({ ...frame, bands: others }).bands;
          const space: TossBand = { repeat: period, from: 40, to: 90, across, beside };
          const { placements, facts } = toss({ space, motifs: MOTIFS, gap, seed });
          const tossed = { name: "tossed", from: 40, to: 90, period, motifs: placements };
          const made = border({ ...frame, bands: [tossed, ...others] }).bands;
          const [own, ...rest] = made;
          if (own === undefined) throw new Error("a band was asked for");
          // A band that does not divide the repeat is scaled as a whole, gaps too.
          const held = gap * (1 + own.fit.change / 100);
          for (const other of rest) expect(between(own, other)).toBeGreaterThanOrEqual(held - 1e-6);
          expect(facts.covered).toBeLessThan(1);
          return placements.length > 0;
        },
      ),
      { numRuns: 6 },
    );
  });

  const frame = { name: "B", repeat: 120, width: 100 };
  const wall = (count: number) =>
    border({
      ...frame,
      bands: [
        {
          name: "wall",
          from: 0,
          to: 50,
          period: 120 / count,
          motifs: [place(PIP.motif, { at: [9, 45], width: 26 })],
        },
      ],
    }).bands;

  it("says where other bands leave a motif no room, and whose motifs these are", () => {
    const at = (count: number) =>
      toss({ space: { repeat: 120, from: 40, to: 62, beside: wall(count) }, motifs: MOTIFS, gap: 2 });
    expect(at(1).notes).toEqual([]);
    expect(at(1).placements.length).toBeGreaterThan(0);
    const codes = at(12).notes.map((one) => one.code);
    expect(codes).toEqual(["N_TOSS_ROOM", "N_TOSS_BESIDE"]);
    expect(at(12).notes[1]?.message).toMatch(/^motifs of other bands take [5-9]\d % of this one.*: pip/);
  });

  it("takes room only where the copies of one period come to stand", () => {
    const free = (repeat: number, count: number) =>
      toss({ space: { repeat, from: 40, to: 90, beside: wall(count) }, motifs: MOTIFS, gap: 2 }).facts
        .covered;
    // Six copies over six periods of the band fall on each other; over five they fall all over it.
    expect(free(20, 6)).toBe(free(20, 1));
    expect(free(20, 6)).toBeGreaterThan(free(20, 5));
  });

  it("does not see what a band cuts off, and keeps clear of the edge that is left", () => {
    const bands = (clip: boolean) => wall(2).map((one) => ({ ...one, clip }));
    const asked = { motifs: MOTIFS, gap: 2 };
    const space = { repeat: 60, from: 53, to: 90 };
    const beside = (clip: boolean) => toss({ ...asked, space: { ...space, beside: bands(clip) } }).placements;
    expect(beside(true)).toEqual(toss({ ...asked, space }).placements);
    // Held against the whole of what reaches in, only the one that sees it keeps clear.
    const apart = (clip: boolean) => {
      const tossed = { name: "tossed", from: 53, to: 90, period: 60, motifs: beside(clip) };
      const [own] = border({ ...frame, bands: [tossed] }).bands;
      const [whole] = bands(false);
      return own === undefined || whole === undefined ? Number.NaN : between(own, whole);
    };
    expect(apart(false)).toBeGreaterThanOrEqual(2 - 1e-6);
    expect(apart(true)).toBeLessThan(1);
  });

  it("refuses other bands whose motifs come to stand everywhere", () => {
    const at = (repeat: number) =>
      toss({ space: { repeat, from: 40, to: 62, beside: wall(3001) }, motifs: MOTIFS, gap: 2 });
    expect(() => at(60)).toThrow("E_LIMIT");
  });

  it("refuses what is no band of a border", () => {
    const at = (beside: unknown) =>
      toss({ space: { repeat: 60, from: 0, to: 40, beside: beside as Band[] }, motifs: MOTIFS, gap: 2 });
    expect(() => at(3)).toThrow("E_ARGUMENT");
    expect(() => at([{}])).toThrow("E_NUMBER");
  });
});
