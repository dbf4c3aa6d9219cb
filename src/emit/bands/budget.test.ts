import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { RepetendError } from "../../errors.js";
import { bandsTogether, checkRoom, readBudget } from "./budget.js";

const bandsOf = (way: "direct" | "planes", width: number, height: number, keepsPlanes = false) => ({
  way,
  keepsPlanes,
  grid: { tile: { width, height } },
});
const border = (way: "direct" | "planes", keepsPlanes = false) => bandsOf(way, 3780, 16535, keepsPlanes);

describe("a budget of memory", () => {
  it("of 350 MB is for four bands of one colourway at a time, and too little for many at once", () => {
    const budget = readBudget({ workers: 2, memory: 350e6 });
    expect([budget.processes, bandsTogether(budget, border("direct"))]).toEqual([1, 4]);
    const less = readBudget({ workers: 2, memory: 300e6 });
    expect(bandsTogether(less, border("direct"))).toBe(1);
    expect(() => checkRoom(budget, border("direct"))).not.toThrow();
    expect(() => checkRoom(budget, border("planes"))).toThrow(/E_TOO_LARGE/);
  });

  it("is for a third band of a wide tile only where its pieces have room", () => {
    const wide = bandsOf("direct", 15118, 35433);
    const together = (memory: number) => bandsTogether(readBudget({ workers: 1, memory }), wide);
    expect([350e6, 400e6, 450e6].map(together)).toEqual([1, 2, 3]);
  });

  it("of 600 MB is for two bands of many colourways, and for one whose planes come back", () => {
    const budget = readBudget({ workers: 2, memory: 600e6 });
    expect([budget.processes, bandsTogether(budget, border("planes"))]).toEqual([1, 2]);
    expect(bandsTogether(budget, border("planes", true))).toBe(1);
  });

  it("that is refused names one that would do", () => {
    const size = fc.integer({ min: 1, max: 200_000 });
    fc.assert(
      fc.property(
        fc.constantFrom("direct" as const, "planes" as const),
        size,
        size,
        fc.integer({ min: 1, max: 16 }),
        fc.integer({ min: 298, max: 4000 }),
        (way, width, height, workers, megabytes) => {
          const bands = bandsOf(way, width, height);
          try {
            checkRoom(readBudget({ workers, memory: megabytes * 1e6 }), bands);
          } catch (error) {
            if (!(error instanceof RepetendError)) throw error;
            const [, one, all = one] = /^(\d+) MB or more(?: with one worker, (\d+) MB with \d+)?, or/.exec(
              error.accepted ?? "",
            ) as RegExpExecArray;
            const memory = (text: string | undefined) => 1e6 * Number(text);
            expect(() => checkRoom(readBudget({ workers: 1, memory: memory(one) }), bands)).not.toThrow();
            expect(() => checkRoom(readBudget({ workers, memory: memory(all) }), bands)).not.toThrow();
          }
        },
      ),
    );
  });
});
