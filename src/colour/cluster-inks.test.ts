import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { clusterInks, type WeightedInk } from "./cluster-inks.js";
import { colourDifference } from "./difference.js";
import { hexToOklab } from "./spaces.js";

const ink = fc.integer({ min: 0, max: 0xffffff }).map((value) => `#${value.toString(16).padStart(6, "0")}`);
const weighted = fc.uniqueArray(fc.record({ ink, weight: fc.integer({ min: 1, max: 100 }) }), {
  minLength: 1,
  maxLength: 9,
  selector: (one) => one.ink,
});

const squared = (one: string, other: string): number => {
  const [first, second] = [hexToOklab(one), hexToOklab(other)];
  return (first.l - second.l) ** 2 + (first.a - second.a) ** 2 + (first.b - second.b) ** 2;
};
/** What a choice costs, told again from the definition. */
const costOf = (inks: readonly WeightedInk[], left: readonly string[]): number =>
  inks.reduce((sum, one) => sum + one.weight * Math.min(...left.map((other) => squared(one.ink, other))), 0);

describe("clusterInks", () => {
  it("leaves as many inks as are asked for, all of the print, and sends each ink to the nearest of them", () => {
    fc.assert(
      fc.property(weighted, fc.integer({ min: 1, max: 10 }), (inks, count) => {
        const { inks: left, moves, table } = clusterInks(inks, count);
        expect(left).toHaveLength(Math.min(count, inks.length));
        expect(moves.map((move) => move.ink)).toEqual(inks.map((one) => one.ink));
        for (const { ink: from, to, difference } of moves) {
          expect(left).toContain(to);
          expect(table[from]).toBe(to);
          expect(squared(from, to)).toBe(Math.min(...left.map((other) => squared(from, other))));
          expect(difference).toBe(colourDifference(from, to));
        }
        for (const one of left) expect(table[one]).toBe(one);
      }),
    );
  });

  it("cannot be bettered by exchanging one ink, as trying all exchanges shows", () => {
    fc.assert(
      fc.property(weighted, fc.integer({ min: 1, max: 5 }), (inks, count) => {
        const { inks: left } = clusterInks(inks, count);
        const here = costOf(inks, left);
        for (const out of left) {
          for (const { ink: into } of inks) {
            const exchanged = left.map((one) => (one === out ? into : one));
            expect(costOf(inks, exchanged)).toBeGreaterThanOrEqual(here * (1 - 1e-6));
          }
        }
      }),
    );
  });

  it("changes nothing the second time", () => {
    fc.assert(
      fc.property(weighted, fc.integer({ min: 1, max: 5 }), (inks, count) => {
        const { inks: left } = clusterInks(inks, count);
        const again = clusterInks(
          left.map((one) => ({ ink: one, weight: 1 })),
          count,
        );
        expect(again.inks).toEqual(left);
        expect(again.moves.every((move) => move.difference === 0)).toBe(true);
      }),
    );
  });

  it("keeps what must be kept, and does the best with the rest", () => {
    fc.assert(
      fc.property(weighted, fc.integer({ min: 1, max: 5 }), fc.nat(), (inks, count, pick) => {
        const keep = inks[pick % inks.length]?.ink ?? "";
        const { inks: left } = clusterInks(inks, count, { keep: [keep, keep.toUpperCase()] });
        expect(left).toContain(keep);
        const here = costOf(inks, left);
        for (const out of left.filter((one) => one !== keep)) {
          for (const { ink: into } of inks) {
            const exchanged = left.map((one) => (one === out ? into : one));
            expect(costOf(inks, exchanged)).toBeGreaterThanOrEqual(here * (1 - 1e-6));
          }
        }
      }),
    );
  });

  it("lets much-used inks stay where little-used ones would be as near", () => {
    const reeds = (one: number, other: number): readonly WeightedInk[] => [
      { ink: "#6b7f2a", weight: one },
      { ink: "#6d8230", weight: other },
      { ink: "#f2ead8", weight: 90 },
    ];
    expect(clusterInks(reeds(30, 2), 2).inks).toEqual(["#6b7f2a", "#f2ead8"]);
    expect(clusterInks(reeds(2, 30), 2).inks).toEqual(["#6d8230", "#f2ead8"]);
  });

  it("adds up the weights of one ink in several spellings", () => {
    const { moves } = clusterInks(
      [
        { ink: "WHITE", weight: 1 },
        { ink: "#fff", weight: 2 },
        { ink: "black", weight: 2 },
      ],
      1,
    );
    expect(moves.map((move) => move.to)).toEqual(["#ffffff", "#ffffff"]);
  });

  it("manages hundreds of inks in a moment", () => {
    const many = Array.from({ length: 400 }, (_, at) => ({
      ink: `#${((at * 40_503_977) % 0x1000000).toString(16).padStart(6, "0")}`,
      weight: 1 + (at % 7),
    }));
    const started = performance.now();
    expect(clusterInks(many, 12).inks).toHaveLength(12);
    expect(performance.now() - started).toBeLessThan(3000);
  });

  it("takes no inks, and inks without weight", () => {
    expect(clusterInks([], 3)).toEqual({ inks: [], moves: [], table: {} });
    const none = ["red", "lime", "blue"].map((one) => ({ ink: one, weight: 0 }));
    expect(clusterInks(none, 2).inks).toHaveLength(2);
  });

  it("refuses numbers out of range, unknown inks and more to keep than may be left", () => {
    const inks = [{ ink: "red", weight: 1 }];
    for (const count of [0, -1, 1.5, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => clusterInks(inks, count)).toThrow(/^E_NUMBER count.*accepted: a whole number, 1 or more$/);
    }
    for (const weight of [-1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => clusterInks([{ ink: "red", weight }], 1)).toThrow(/^E_NUMBER red/);
    }
    expect(() => clusterInks(inks, 1, { keep: ["blue"] })).toThrow(/^E_INK keep: .*met "#0000ff"/);
    expect(() => clusterInks([...inks, { ink: "blue", weight: 1 }], 1, { keep: ["red", "blue"] })).toThrow(
      /^E_NUMBER.*accepted: a whole number, 2 or more: so many inks are kept$/,
    );
    expect(() => clusterInks([{ ink: "none", weight: 1 }], 1)).toThrow(/^E_COLOUR/);
    const flood = Array.from({ length: 1025 }, (_, at) => ({
      ink: `#${at.toString(16).padStart(6, "0")}`,
      weight: 1,
    }));
    expect(() => clusterInks(flood, 1)).toThrow(/^E_LIMIT/);
  });
});
