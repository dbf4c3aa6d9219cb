import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findRatio } from "./ratio.js";
import { type PixelQuestion, solvePixels } from "./solve-pixels.js";

/** The exact pixels of a length in hundredths of a mm, times 2540, as a whole number: an oracle without a float. */
const pixelsTimes2540 = (hundredths: number, dpi: number): bigint => BigInt(hundredths) * BigInt(dpi);
const isWhole = (hundredths: number, dpi: number, multiple: number): boolean =>
  pixelsTimes2540(hundredths, dpi) % (2540n * BigInt(multiple)) === 0n;

const hundredths = fc.integer({ min: 500, max: 300_000 });
const anyDpi = fc.integer({ min: 72, max: 1200 });
const anyStep = fc.option(
  fc.record({
    along: fc.constantFrom("column" as const, "row" as const),
    p: fc.integer({ min: 1, max: 11 }),
    q: fc.integer({ min: 1, max: 12 }),
  }),
  { nil: undefined },
);
const gcd = (one: number, other: number): number => (other === 0 ? one : gcd(other, one % other));
const multiplesOf = (step: PixelQuestion["step"]): { x: number; y: number } => {
  const cells = step === undefined ? 1 : step.q / gcd(step.p, step.q);
  return { x: step?.along === "row" ? cells : 1, y: step?.along === "column" ? cells : 1 };
};

describe("solvePixels", () => {
  it("finds 12 in x 58 in at 300 dpi exactly 3600 x 17400 pixels (arithmetic: 12 x 300, 58 x 300)", () => {
    const answer = solvePixels({ width: "12in", height: "58in", dpi: 300 });
    expect([answer.width, answer.height, answer.isExact]).toEqual([3600, 17400, true]);
    expect([answer.x.dpi, answer.x.microns, answer.x.micronsPerMetre]).toEqual([300, 0, 0]);
    expect(answer.tile).toEqual({ width: 3600, height: 17400 });
  });

  it("finds 64 mm at 254 dpi exactly 640 pixels (254 dpi is 10 pixels to the mm)", () => {
    const { x } = solvePixels({ width: 64, height: 64, dpi: 254 });
    expect([x.pixels, x.isExact, x.dpi]).toEqual([640, true, 254]);
  });

  it("reports that 64 mm at 300 dpi are 755.9055… pixels, and what taking 756 costs", () => {
    const answer = solvePixels({ width: 64, height: 64, dpi: 300 });
    expect(answer.isExact).toBe(false);
    expect(answer.x.asked).toBeCloseTo(755.90551181, 8);
    expect(answer.x.pixels).toBe(756);
    // 756 x 25.4 / 64, and 756 x 25.4 / 300 - 64 = 0.008 mm: by hand.
    expect(answer.x.dpi).toBe(300.0375);
    expect(answer.x.microns).toBe(8);
    expect(answer.x.micronsPerMetre).toBe(125);
    expect(answer.x.exact).toEqual({
      below: { dpi: 299.640625, pixels: 755 },
      above: { dpi: 300.0375, pixels: 756 },
    });
    expect(answer.x.exactWhole).toEqual({
      below: { dpi: 254, pixels: 640 },
      above: { dpi: 381, pixels: 960 },
    });
    expect(answer.exactWhole).toEqual({
      below: { dpi: 254, width: 640, height: 640 },
      above: { dpi: 381, width: 960, height: 960 },
    });
  });

  it("takes no pixels of a half-drop that a half of would not be whole", () => {
    const step = { along: "column", p: 1, q: 2 } as const;
    // 100.1 px asked: 100 either way; 100.9 asked: 101 alone, but 100 of multiples of 2 (102 is further).
    const height = (100.9 * 25.4) / 300;
    expect(solvePixels({ width: 50, height, dpi: 300 }).height).toBe(101);
    const drop = solvePixels({ width: 50, height, dpi: 300, step });
    expect(drop.height).toBe(100);
    expect(drop.tile).toEqual({ width: drop.width * 2, height: 100 });
    const brick = solvePixels({ width: 50, height, dpi: 300, step: { along: "row", p: 1, q: 2 } });
    expect([brick.height, brick.width % 2]).toEqual([101, 0]);
    expect(brick.tile).toEqual({ width: brick.width, height: 202 });
  });

  it("reads a step in lowest terms", () => {
    const question = { width: 50, height: 50, dpi: 300 };
    const half = solvePixels({ ...question, step: { along: "column", p: 1, q: 2 } });
    expect(solvePixels({ ...question, step: { along: "column", p: 3, q: 6 } })).toEqual(half);
    expect(solvePixels({ ...question, step: { along: "column", p: 0, q: 7 } })).toEqual(
      solvePixels(question),
    );
  });

  it("treats each axis by its own resolution, and then knows no joint one", () => {
    const answer = solvePixels({ width: "10in", height: "10in", dpi: { x: 300, y: 150 } });
    expect([answer.width, answer.height]).toEqual([3000, 1500]);
    expect(answer.exact).toEqual({ below: undefined, above: undefined });
  });

  it("counts a third of a 640 mm screen as exact where its pixels are whole, though no double holds the length", () => {
    // 640 mm at 254 dpi are 6400 px, so 640/3 mm at 381 dpi are 3200 px.
    const answer = solvePixels({ width: 640 / 3, height: 640, dpi: 381 });
    expect([answer.width, answer.height, answer.isExact]).toEqual([3200, 9600, true]);
    expect(answer.exactWhole).toEqual({
      below: undefined,
      above: { dpi: 762, width: 6400, height: 19200 },
    });
  });

  it("tells a nanometre in a metre from nothing", () => {
    expect(solvePixels({ width: 1000.000001, height: 1000, dpi: 254 }).x.isExact).toBe(false);
    expect(solvePixels({ width: 1000.000001, height: 1000, dpi: 254 }).x.micronsPerMetre).toBeCloseTo(
      -0.001,
      6,
    );
  });

  it("never returns no pixels, however small the repeat", () => {
    const answer = solvePixels({
      width: 0.001,
      height: 0.001,
      dpi: 72,
      step: { along: "row", p: 1, q: 3 },
    });
    expect([answer.width, answer.height]).toEqual([3, 1]);
    expect(answer.x.microns).toBeGreaterThan(1000);
  });

  it.each<[string, PixelQuestion, RegExp]>([
    ["a width of 0", { width: 0, height: 10, dpi: 300 }, /^E_SIZE width/],
    ["a negative height", { width: 10, height: "-1mm", dpi: 300 }, /^E_SIZE height/],
    ["a bare number in text", { width: "10", height: 10, dpi: 300 }, /^E_UNIT width/],
    ["no resolution", { width: 10, height: 10, dpi: 0 }, /^E_NUMBER dpi/],
    [
      "a step by halves of a row",
      { width: 10, height: 10, dpi: 300, step: { along: "row", p: 1, q: 2.5 } },
      /^E_LAYOUT/,
    ],
  ])("refuses %s", (_, question, message) => {
    expect(() => solvePixels(question)).toThrow(message);
  });

  it("takes the admissible count nearest to the asked one, and says what is exact as exact arithmetic does", () => {
    fc.assert(
      fc.property(hundredths, hundredths, anyDpi, anyStep, (w, h, dpi, step) => {
        const answer = solvePixels({ width: w / 100, height: h / 100, dpi, step });
        const multiple = multiplesOf(step);
        for (const [axis, length, times] of [
          [answer.x, w, multiple.x],
          [answer.y, h, multiple.y],
        ] as const) {
          expect(axis.pixels % times).toBe(0);
          expect(axis.pixels).toBeGreaterThan(0);
          const off = BigInt(axis.pixels) * 2540n - pixelsTimes2540(length, dpi);
          const distance = off < 0n ? -off : off;
          if (axis.pixels > times) expect(distance * 2n <= 2540n * BigInt(times)).toBe(true);
          expect(axis.isExact).toBe(off === 0n);
          expect(axis.microns).toBeCloseTo((Number(off) * 10) / dpi, 5);
          expect((axis.pixels * 25.4) / axis.dpi).toBeCloseTo(length / 100, 9);
        }
      }),
    );
  });

  it("finds the nearest exact whole resolutions: none between is exact, by trying all of them without floats", () => {
    fc.assert(
      fc.property(hundredths, hundredths, anyDpi, anyStep, (w, h, dpi, step) => {
        const answer = solvePixels({ width: w / 100, height: h / 100, dpi, step });
        const { x, y } = multiplesOf(step);
        const search = (isExact: (dpi: number) => boolean): (number | undefined)[] => {
          const all = Array.from({ length: 2400 - 72 + 1 }, (_, index) => 72 + index);
          return [
            all.filter((at) => at < dpi && isExact(at)).at(-1),
            all.filter((at) => at > dpi).find(isExact),
          ];
        };
        const found = [answer.x.exactWhole, answer.y.exactWhole, answer.exactWhole];
        const expected = [
          search((at) => isWhole(w, at, x)),
          search((at) => isWhole(h, at, y)),
          search((at) => isWhole(w, at, x) && isWhole(h, at, y)),
        ];
        expect(found.map(({ below, above }) => [below?.dpi, above?.dpi])).toEqual(expected);
      }),
      { numRuns: 60 },
    );
  });

  it("finds joint resolutions that are exact on both axes and next to each other", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 60 }),
        fc.integer({ min: 1, max: 60 }),
        fc.double({ min: 1, max: 20, noNaN: true }),
        anyDpi,
        anyStep,
        (over, under, part, dpi, step) => {
          // A cell of over x under parts of any size: exact where the part is a whole number of pixels.
          const { below, above } = solvePixels({ width: over * part, height: under * part, dpi, step }).exact;
          const { x, y } = multiplesOf(step);
          for (const joint of [below, above]) {
            if (joint === undefined) continue;
            expect([joint.width % x, joint.height % y]).toEqual([0, 0]);
            expect((joint.width * 25.4) / joint.dpi).toBeCloseTo(over * part, 8);
            expect((joint.height * 25.4) / joint.dpi).toBeCloseTo(under * part, 8);
          }
          const divisor = gcd(over, under);
          const [a, b] = [over / divisor, under / divisor];
          const times = ((x / gcd(a, x)) * (y / gcd(b, y))) / gcd(x / gcd(a, x), y / gcd(b, y));
          const base = (times * 25.4) / (part * divisor);
          if (below && above) {
            const strides = (above.dpi - below.dpi) / base;
            expect(Math.abs(strides - Math.round(strides))).toBeLessThan(1e-6);
            expect([1, 2]).toContain(Math.round(strides));
          } else if (base < 100) {
            expect(above ?? below).toBeDefined();
          }
        },
      ),
    );
  });
});

describe("findRatio", () => {
  it("finds a ratio again from its quotient", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5000 }), fc.integer({ min: 1, max: 5000 }), (over, under) => {
        const divisor = gcd(over, under);
        expect(findRatio(over / under, 5000)).toEqual({ over: over / divisor, under: under / divisor });
      }),
    );
  });

  it("finds none where there is none that small", () => {
    expect(findRatio(Math.SQRT2, 10_000)).toBeUndefined();
    expect(findRatio(Math.PI, 10_000)).toBeUndefined();
  });
});
