import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { RepetendError } from "../../errors.js";
import { parseTree } from "../../svg/index.js";
import { hookHalfDrop, shoreBorder, wrapDress } from "../sketches.fixture.js";
import { nest } from "./nest.js";
import { closeSweep } from "./sweep.js";
import { yardage } from "./yardage.js";

const IN = 25.4;
const refused = (code: string) => expect.objectContaining({ code }) as RepetendError;

describe("closeSweep", () => {
  it("gathers up to the next whole repeat, or scales to the nearest", () => {
    // Round 88 in with a 12 in repeat: 7.33 repeats.
    const gathered = closeSweep("skirt", 88, 12, "gather");
    expect(gathered).toMatchObject({ repeats: 8, cloth: 96, scale: 1 });
    expect(gathered.gather).toBeCloseTo(96 / 88, 12);
    const scaled = closeSweep("skirt", 88, 12, "scale");
    expect(scaled).toMatchObject({ repeats: 7, cloth: 88, gather: 1 });
    expect(scaled.scale).toBeCloseTo(88 / 84, 12);
  });

  it("takes whole repeats as they are, rounding forgiven, and always at least one", () => {
    expect(closeSweep("s", 96.0000001, 12, "gather").repeats).toBe(8);
    expect(closeSweep("s", 96, 12, "gather").gather).toBe(1);
    expect(closeSweep("s", 3, 12, "scale").repeats).toBe(1);
  });
});

describe("nest", () => {
  const piece = fc.record({
    width: fc.integer({ min: 50, max: 900 }),
    height: fc.integer({ min: 50, max: 1400 }),
    across: fc.option(fc.integer({ min: 0, max: 100 }), { nil: undefined }),
    step: fc.option(fc.integer({ min: 80, max: 400 }), { nil: undefined }),
    start: fc.integer({ min: -400, max: 400 }),
  });

  it("never lays pieces over each other or off the cloth, and keeps rows and repeats", () => {
    fc.assert(
      fc.property(fc.array(piece, { minLength: 1, maxLength: 12 }), (drawn) => {
        const pieces = drawn.map(({ width, height, across, step, start }) => ({
          width,
          height: across === undefined ? height : Math.min(height, 1500 - across),
          across,
          phase: step === undefined ? undefined : { starts: [{ x: start, y: undefined }], step },
        }));
        const places = nest(pieces, 1500);
        for (const [k, one] of places.entries()) {
          expect(one.x).toBeGreaterThanOrEqual(0);
          expect(one.y + one.height).toBeLessThanOrEqual(1500);
          const { across, phase } = pieces[k] ?? {};
          if (across !== undefined) expect(one.y).toBe(across);
          if (phase) expect(Math.abs((one.x - (phase.starts[0]?.x ?? 0)) % phase.step)).toBe(0);
          for (const other of places.slice(k + 1)) {
            const apart =
              one.x + one.width <= other.x ||
              other.x + other.width <= one.x ||
              one.y + one.height <= other.y ||
              other.y + other.height <= one.y;
            expect(apart).toBe(true);
          }
        }
      }),
    );
  });

  it("lays each piece at the first of all places that are free", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(piece, fc.integer({ min: 1, max: 4 })), { minLength: 1, maxLength: 6 }),
        (drawn) => {
          const pieces = drawn.flatMap(([{ width, height, step, start }, count]) => {
            const phase = step === undefined ? undefined : { starts: [{ x: start, y: undefined }], step };
            return Array.from({ length: count }, () => ({ width, height, across: undefined, phase }));
          });
          const places = nest(pieces, 1500);
          const order = pieces
            .map(({ width, height }, k) => ({ area: width * height, k }))
            .sort((one, other) => other.area - one.area || one.k - other.k)
            .map(({ k }) => k);
          for (const [at, k] of order.entries()) {
            const [own, one] = [pieces[k], places[k]];
            if (own === undefined || one === undefined) continue;
            const laid = order.slice(0, at).flatMap((index) => places[index] ?? []);
            const free = ({ x, y }: { x: number; y: number }) =>
              y + own.height <= 1500 &&
              laid.every(
                (box) =>
                  x + own.width <= box.x ||
                  box.x + box.width <= x ||
                  y + own.height <= box.y ||
                  box.y + box.height <= y,
              );
            // All places before it: those of its repeat, or where something ends.
            const { phase } = own;
            const first =
              phase === undefined ? 0 : (((phase.starts[0]?.x ?? 0) % phase.step) + phase.step) % phase.step;
            const xs =
              phase === undefined
                ? [0, ...laid.map((box) => box.x + box.width)]
                : Array.from(
                    { length: Math.floor((one.x - first) / phase.step) + 1 },
                    (_, n) => first + n * phase.step,
                  );
            const ys = [0, ...laid.map((box) => box.y + box.height)];
            const before = xs.flatMap((x) => ys.map((y) => ({ x, y })));
            const better = before.filter(({ x, y }) => x < one.x || (x === one.x && y < one.y)).filter(free);
            expect(better).toEqual([]);
          }
        },
      ),
    );
  });

  it("lays the most pieces that it takes in seconds, all alike or all different", () => {
    const phase = {
      starts: [
        { x: 0, y: 0 },
        { x: 25, y: 60 },
        { x: 0, y: 120 },
      ],
      step: 50,
    };
    const alike = Array.from({ length: 2000 }, () => ({ width: 320, height: 420, across: undefined, phase }));
    const places = nest(alike, 1400);
    expect(new Set(places.map(({ x, y }) => `${x} ${y}`)).size).toBe(2000);
    const others = Array.from({ length: 600 }, (_, k) => ({
      ...{ width: 300 + ((k * 137) % 401), height: 100 + ((k * 71) % 307) },
      ...{ across: undefined, phase: undefined },
    }));
    expect(nest(others, 1400)).toHaveLength(600);
  }, 20_000);

  it("fills the space beside a row before it takes more cloth", () => {
    const places = nest(
      [
        { width: 1000, height: 800, across: 700, phase: undefined },
        { width: 400, height: 600, across: undefined, phase: undefined },
      ],
      1500,
    );
    expect(places[1]).toEqual({ x: 0, y: 0, width: 400, height: 600 });
  });
});

describe("yardage", () => {
  it("of two skirt panels round whole repeats is the repeats' cloth", () => {
    // Common practice: border cloth 58 in wide with a 12 in repeat. Two panels of 44 in go round 88 in, 7.33 repeats:
    // 8 repeats, 96 in of cloth.
    const cloth = yardage({
      print: shoreBorder(),
      seam: 0,
      pieces: [{ name: "skirt", width: "44in", height: "40in", count: 2, band: "hem", sweep: "gather" }],
    });
    expect(cloth.length / IN).toBeCloseTo(96, 6);
    expect(cloth.sweeps[0]).toMatchObject({ repeats: 8 });
    expect(cloth.waste).toBeCloseTo(1 - 40 / 58, 6);
    expect(cloth.pieces.map(({ y, height }) => (y + height) / IN)).toEqual([
      expect.closeTo(58, 6),
      expect.closeTo(58, 6),
    ]);
    expect(cloth.notes.map(({ message }) => message)).toEqual([
      "8 repeats go round: 9.1 % more cloth is gathered in",
    ]);
    expect(cloth.says).toMatch(/^2\.44 m \(2\.67 yd\).*A marker made by a pattern cutter decides\.$/);
  });

  it("starts matched pieces at the same place of the repeat", () => {
    const cloth = yardage({
      print: shoreBorder(),
      pieces: [{ name: "panel", width: "30in", height: "40in", count: 3, band: "hem", along: "2in" }],
    });
    const phases = cloth.pieces.map(({ x }) => (((x + cloth.startsAt + 10) / IN) % 12) - 2);
    for (const phase of phases) expect(phase).toBeCloseTo(0, 6);
    // 30 in and two seams need 3 repeats each, the last one only itself.
    expect(cloth.length / IN).toBeCloseTo(2 * 36 + 30 + 20 / IN, 6);
    expect(cloth.spare / IN).toBeCloseTo(12, 9);
    expect(cloth.startsAt).toBeCloseTo(2 * IN - 10, 6);
  });

  it("continues round a sweep from piece to piece", () => {
    const cloth = yardage({
      print: shoreBorder(),
      seam: "1cm",
      pieces: [{ name: "tier", width: "20in", height: "15in", count: 3, band: "hem", sweep: "scale" }],
    });
    // 60 in are 5 repeats as they are: each piece begins 20 in after the one before, so 8 in on in the repeat.
    expect(cloth.sweeps[0]).toMatchObject({ repeats: 5, scale: 1, gather: 1 });
    const starts = cloth.pieces.map(({ x }) => (x + cloth.startsAt + 10) / IN);
    for (const [k, start] of starts.entries()) {
      const rest = (((start - 20 * k) % 12) + 12) % 12;
      expect(Math.min(rest, 12 - rest)).toBeCloseTo(0, 6);
    }
  });

  it("lays a side edge on a band by cutting across, and other pieces into the space that is left", () => {
    const cloth = yardage({
      print: shoreBorder(),
      seam: 0,
      pieces: [
        { name: "sleeve", width: "14in", height: "20in", band: "hem", edge: "left" },
        { name: "facing", width: "10in", height: "4in", match: false },
      ],
    });
    const [sleeve, facing] = cloth.pieces;
    expect(sleeve).toMatchObject({
      cut: "across",
      width: expect.closeTo(20 * IN, 6),
      height: expect.closeTo(14 * IN, 6),
    });
    expect((sleeve?.y ?? 0) + (sleeve?.height ?? 0)).toBeCloseTo(58 * IN, 6);
    expect(facing).toMatchObject({ x: 0, y: 0 });
    expect(cloth.length / IN).toBeCloseTo(20, 6);
  });

  it("reports a piece that needs more than the cloth has", () => {
    const cloth = yardage({
      print: shoreBorder(),
      pieces: [
        { name: "gown", width: "20in", height: "60in", band: "hem" },
        { name: "wide", width: "20in", height: "70in", match: false },
      ],
    });
    expect(cloth.pieces[0]?.beyond).toEqual([
      { selvedge: "top", by: expect.closeTo(2 * IN + 10, 6) },
      { selvedge: "bottom", by: expect.closeTo(10, 6) },
    ]);
    expect(cloth.pieces[1]?.beyond).toEqual([{ selvedge: "either", by: expect.closeTo(12 * IN + 20, 6) }]);
    expect(cloth.notes.map(({ code }) => code)).toEqual(["N_CLOTH", "N_CLOTH", "N_CLOTH"]);
  });

  it("matches an all-over print on its lattice, half-drop and all", () => {
    const cloth = yardage({
      print: hookHalfDrop(),
      clothWidth: "140cm",
      seam: 0,
      pieces: [{ name: "front", width: "50cm", height: "60cm", count: 4, match: true }],
    });
    for (const { x, y } of cloth.pieces) {
      // Along the warp is down the artwork: columns of 80 mm, every other one lower by 40.
      const column = Math.round(y / 80);
      expect(y).toBeCloseTo(80 * column, 6);
      const rest = (((x - (column % 2) * 40) % 80) + 80) % 80;
      expect(Math.min(rest, 80 - rest)).toBeCloseTo(0, 6);
    }
    // Two side by side, 1400 mm hold 500 and 500: twice 600 long, the second row on the repeat.
    expect(cloth.length).toBeLessThanOrEqual(1280);
  });

  it("takes pieces from a sketch at its scale", () => {
    const cloth = yardage({
      print: shoreBorder(),
      seam: 0,
      sketch: wrapDress(),
      scale: { of: "#length-line", is: "82cm" },
      pieces: [{ name: "pocket", panel: "#pocket" }],
    });
    expect(cloth.pieces[0]).toMatchObject({ width: expect.closeTo(80, 6), height: expect.closeTo(60, 6) });
  });

  it("draws how the pieces lie", () => {
    const cloth = yardage({
      print: shoreBorder(),
      pieces: [{ name: "front & back", width: "44in", height: "40in", count: 2, band: "hem" }],
    });
    const root = parseTree(cloth.picture);
    const titles = root.children.flatMap((one) =>
      one.children.map((child) => (child.type === "element" ? child.children[0]?.value : "")),
    );
    expect(titles).toContain("front & back 1");
    // Names are drawn: no font is needed.
    expect(root.children.filter((one) => one.type === "element" && one.name === "text")).toEqual([]);
    expect(root.attributes.width).toMatch(/^\d+(\.\d+)?mm$/);
  });

  it("says no less than is needed, and no more by rounding", () => {
    const says = (width: number, count = 1) =>
      yardage({ print: shoreBorder(), seam: 0, pieces: [{ name: "p", width, height: 1400, count }] }).says;
    expect(says(1001)).toMatch(/^1\.01 m \(1\.10 yd\)/);
    expect(says(1000)).toMatch(/^1\.00 m/);
    // Three times 0.1 is a little more than 0.3.
    expect(says(100.1, 300)).toMatch(/^30\.03 m/);
  });

  it("refuses what cannot be cut", () => {
    const print = shoreBorder();
    const piece = { name: "p", width: 100, height: 100 };
    expect(() => yardage({ print, pieces: [] })).toThrow(refused("E_SIZE"));
    expect(() => yardage({ print: hookHalfDrop(), pieces: [piece] })).toThrow(refused("E_SIZE"));
    expect(() => yardage({ print, clothWidth: "0cm", pieces: [piece] })).toThrow("cloth is more than 0 wide");
    expect(() => yardage({ print, pieces: [{ name: "p" }] })).toThrow(refused("E_SIZE"));
    expect(() => yardage({ print, pieces: [{ ...piece, width: 0 }] })).toThrow(refused("E_SIZE"));
    expect(() => yardage({ print, pieces: [{ ...piece, count: 1.5 }] })).toThrow(refused("E_NUMBER"));
    expect(() => yardage({ print, pieces: [{ ...piece, band: "cuff" }] })).toThrow(refused("E_BAND"));
    expect(() => yardage({ print, pieces: [{ ...piece, band: "hem", cut: "across" }] })).toThrow(
      refused("E_LAYOUT"),
    );
    expect(() => yardage({ print, pieces: [{ ...piece, cut: "across", sweep: "scale" }] })).toThrow(
      refused("E_LAYOUT"),
    );
    expect(() => yardage({ print, pieces: [{ ...piece, panel: "#p" }] })).toThrow(refused("E_SIZE"));
    expect(() => yardage({ print, seam: -1, pieces: [piece] })).toThrow(refused("E_SIZE"));
    expect(() => yardage({ print, pieces: [1, 2, 3].map(() => ({ ...piece, count: 900 })) })).toThrow(
      refused("E_LIMIT"),
    );
  });
});
