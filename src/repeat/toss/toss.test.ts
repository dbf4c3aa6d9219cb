import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { RepetendError } from "../../errors.js";
import { applyTo } from "../../geometry/affine.js";
import { motif } from "../../motif/index.js";
import { place } from "../build/place.js";
import type { Placement } from "../types.js";
import { type TossLayout, type TossOptions, toss } from "./index.js";
import { type Corner, cornersOf, distance } from "./outlines.fixture.js";
import { ANGLE, LEG, PIP } from "./toss.fixture.js";

/** Two lattice vectors of a cell, written down apart from the library's. */
function vectors(layout: TossLayout, width: number, height: number): readonly [Corner, Corner] {
  if (layout === "straight") return [[width, 0], [0, height]]; // biome-ignore format: a table
  if (layout === "half-drop") return [[width, height / 2], [0, height]]; // biome-ignore format: a table
  if (layout === "brick") return [[width, 0], [width / 2, height]]; // biome-ignore format: a table
  if ("ends" in layout) return [[width / layout.ends, (height * layout.move) / layout.ends], [0, height]]; // biome-ignore format: a table
  const [p = 0, q = 1] = String(layout.step).split("/").map(Number);
  return layout.along === "column"
    ? [[width, (height * p) / q], [0, height]] // biome-ignore format: a table
    : [[width, 0], [(width * p) / q, height]]; // biome-ignore format: a table
}

/** The smallest distance between any two of these, every copy within three cells counted; from `first` on. */
function smallest(placements: readonly Placement[], [u, v]: readonly [Corner, Corner], first = 0): number {
  const all = placements.map(cornersOf);
  let least = Infinity;
  for (const [k, one] of all.entries()) {
    for (let m = Math.max(k, first); m < all.length; m += 1) {
      for (let i = -7; i <= 7; i += 1) {
        for (let j = -7; j <= 7; j += 1) {
          if (m === k && i === 0 && j === 0) continue;
          const [dx, dy] = [i * u[0] + j * v[0], i * u[1] + j * v[1]];
          const other = (all[m] ?? []).map(([x, y]): Corner => [x + dx, y + dy]);
          const [a, b] = [one[0] ?? [0, 0], other[0] ?? [0, 0]];
          if (Math.hypot(a[0] - b[0], a[1] - b[1]) > 90) continue;
          least = Math.min(least, distance(one, other));
        }
      }
    }
  }
  return least;
}

const layouts = fc.constantFrom<TossLayout>(
  "straight",
  "half-drop",
  "brick",
  { along: "column", step: "1/3" },
  { along: "row", step: "2/5" },
  { ends: 5, move: 2 },
);

const MOTIFS = [
  { motif: LEG.motif, width: [14, 20], share: 2, flip: true },
  { motif: ANGLE.motif, width: 16, turn: "two-way" },
  { motif: PIP.motif, width: [4, 6], filler: true },
] as const;

const cellOf = (layout: TossLayout) =>
  typeof layout === "object" && "ends" in layout
    ? { width: 150, height: 120, layout }
    : { width: 64, height: 52, layout };

const refusal = (change: Partial<TossOptions>): string => {
  try {
    toss({ space: { width: 80, height: 64 }, motifs: MOTIFS, gap: 3, ...change });
    return "none";
  } catch (error) {
    if (error instanceof RepetendError) return error.code;
    throw error;
  }
};

describe("a toss", () => {
  it("leaves the gap between any two outlines, across all seams of every layout", () => {
    fc.assert(
      fc.property(
        layouts,
        fc.integer({ min: 0, max: 2 ** 32 - 1 }),
        fc.constantFrom(2, 3.5),
        (layout, seed, gap) => {
          const space = cellOf(layout);
          const { placements, facts } = toss({ space, motifs: MOTIFS, gap, seed });
          const found = smallest(placements, vectors(layout, space.width, space.height));
          expect(found).toBeGreaterThanOrEqual(gap);
          // What it says of itself is what was found, less the curves' tolerance on both sides.
          expect(facts.smallest?.gap).toBeLessThanOrEqual(found + 1e-9);
          expect(facts.smallest?.gap).toBeGreaterThan(found - 0.05 * gap);
        },
      ),
      { numRuns: 6 },
    );
  });

  it("is the same for the same seed, and another for another", () => {
    const at = (seed: number) => toss({ space: cellOf("brick"), motifs: MOTIFS, gap: 3, seed }).placements;
    expect(at(5)).toEqual(at(5));
    const maps = [1, 2, 3].map((seed) => JSON.stringify(at(seed).map((one) => one.map)));
    expect(new Set(maps).size).toBe(3);
  });

  it("does not change when what stands already is given from another repeat", () => {
    fc.assert(
      fc.property(
        layouts,
        fc.integer({ min: -3, max: 3 }),
        fc.integer({ min: -3, max: 3 }),
        (layout, i, j) => {
          const space = cellOf(layout);
          const [u, v] = vectors(layout, space.width, space.height);
          const at = (dx: number, dy: number) =>
            toss({
              ...{ space, motifs: MOTIFS, gap: 3 },
              around: [place(ANGLE.motif, { at: [20 + dx, 30 + dy], turn: 30 })],
            }).placements.map((one) => one.map);
          expect(at(i * u[0] + j * v[0], i * u[1] + j * v[1])).toEqual(at(0, 0));
        },
      ),
      { numRuns: 3 },
    );
  });

  it("keeps clear of what stands already, however it is stretched, and hands out only the rest", () => {
    const tall = place(ANGLE.motif, { at: [40, 20], width: 22, turn: 15, flip: "x" });
    const stretched: Placement = { ...tall, map: { ...tall.map, a: tall.map.a * 1.5, b: tall.map.b * 1.5 } };
    const around = [stretched, place(LEG.motif, { at: [5, 46], turn: 200 })];
    const { placements } = toss({ space: cellOf("half-drop"), motifs: MOTIFS, gap: 3, around });
    expect(placements.some((one) => around.includes(one))).toBe(false);
    const found = smallest([...around, ...placements], vectors("half-drop", 64, 52), around.length);
    expect(found).toBeGreaterThanOrEqual(3);
    expect(placements.length).toBeGreaterThan(5);
  });

  it("runs round along a band, and inside of its limits unless it may lean out", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 999 }), fc.constantFrom("inside", "free"), (seed, across) => {
        const space = { repeat: 90, from: 300, to: 345, across } as const;
        const { placements } = toss({ space, motifs: MOTIFS, gap: 3, seed });
        const far: Corner = [0, 1e6];
        expect(smallest(placements, [[90, 0], far])).toBeGreaterThanOrEqual(3);
        const levels = placements.flatMap((one) => cornersOf(one).map(([, y]) => y));
        if (across === "inside") {
          expect(Math.min(...levels)).toBeGreaterThanOrEqual(1.5);
          expect(Math.max(...levels)).toBeLessThanOrEqual(43.5);
        } else {
          expect(Math.min(...levels)).toBeLessThan(0);
          expect(Math.max(...levels)).toBeGreaterThan(45);
        }
        expect(placements.length).toBeGreaterThan(5);
      }),
      { numRuns: 4 },
    );
  });

  it("holds shares, sizes, turns and mirrors", () => {
    const { placements, facts, notes } = toss({
      space: { width: 130, height: 110, layout: "half-drop" },
      motifs: [
        { motif: LEG.motif, width: [14, 20], share: 3, turn: { from: -20, to: 20 }, flip: true },
        { motif: ANGLE.motif, width: 16, share: 1, turn: "four-way" },
      ],
      gap: 3,
    });
    expect(notes).toEqual([]);
    const of = (name: string) => placements.filter((one) => one.motif.name === name);
    expect(Math.abs(of("leg").length - 3 * of("angle").length)).toBeLessThanOrEqual(4);
    expect(facts.motifs.map((one) => one.count)).toEqual([of("leg").length, of("angle").length]);
    const widths = of("leg").map(({ map }) => 20 * Math.sqrt(Math.abs(map.a * map.d - map.b * map.c)));
    expect([Math.min(...widths) >= 14 - 1e-9, Math.max(...widths) <= 20 + 1e-9]).toEqual([true, true]);
    expect(Math.max(...widths) - Math.min(...widths)).toBeGreaterThan(4);
    const mirrored = of("leg").filter(({ map }) => map.a * map.d < map.b * map.c).length;
    expect(Math.abs(2 * mirrored - of("leg").length)).toBeLessThanOrEqual(of("leg").length / 3);
    const turns = of("leg").map(({ map }) => (Math.atan2(-map.c, map.d) * 180) / Math.PI);
    expect(turns.every((turn) => Math.abs(turn) <= 20 + 1e-9)).toBe(true);
    const quarters = of("angle").map(
      ({ map }) => Math.round((Math.atan2(map.b, map.a) * 2) / Math.PI + 4) % 4,
    );
    expect(new Set(quarters).size).toBe(4);
    expect(of("angle").every(({ map }) => Math.min(Math.abs(map.a), Math.abs(map.b)) < 1e-9)).toBe(true);
  });

  it("lies in all directions, evenly, with its own kind seldom nearest and no hole that holds another", () => {
    const { placements, facts } = toss({
      space: { width: 160, height: 130, layout: "half-drop" },
      motifs: [
        { motif: LEG.motif, width: [14, 20] },
        { motif: ANGLE.motif, width: [14, 18] },
        { motif: PIP.motif, width: [4, 6], filler: true },
      ],
      gap: 3,
    });
    const large = placements.filter((one) => one.motif !== PIP.motif);
    const sectors = [0, 0, 0, 0];
    for (const { map } of large) {
      const turn = ((Math.atan2(map.b, map.a) / Math.PI) * 2 + 4) % 4;
      sectors[Math.floor(turn) % 4] = (sectors[Math.floor(turn) % 4] ?? 0) + 1;
    }
    // Even would be a quarter each.
    expect(Math.min(...sectors)).toBeGreaterThan(large.length / 8);
    // A pip of the smallest size with its gaps is a circle of 10 mm.
    expect(facts.hole.diameter).toBeLessThan(14);
    expect(facts.nearest.mean).toBeLessThan(1.4 * 3);
    expect(facts.nearest.deviation).toBeLessThan(0.5 * 3);
    expect(facts.alike).toBeLessThan(placements.length / 3);
    expect(facts.covered).toBeGreaterThan(0.28);
  });

  it("stops at a count, spreads it over the whole space, and says where it could not be reached", () => {
    const space = { width: 240, height: 200, layout: "half-drop" } as const;
    const few = toss({ space, motifs: [{ motif: LEG.motif }], gap: 2, count: 12 });
    expect([few.placements.length, few.notes]).toEqual([12, []]);
    // Twelve evenly spread places have about 63 mm for each, and are a good half of it apart at least.
    expect(few.facts.hole.diameter).toBeLessThan(90);
    const middles = few.placements.map((one) => applyTo(one.map, { x: 10, y: 10 }));
    const apart = middles.flatMap((one, k) =>
      middles.slice(k + 1).map((m) => Math.hypot(m.x - one.x, m.y - one.y)),
    );
    expect(Math.min(...apart)).toBeGreaterThan(30);
    const many = toss({
      space: { width: 60, height: 60 },
      motifs: [{ motif: LEG.motif }],
      gap: 2,
      count: 500,
    });
    expect(many.placements.length).toBeLessThan(40);
    expect(many.notes.map((one) => one.code)).toEqual(["N_TOSS_COUNT"]);
  });

  it("says where a filler found no room, and where hands placed motifs nearer than the gap", () => {
    const { notes } = toss({
      space: { width: 60, height: 60 },
      motifs: [{ motif: LEG.motif }, { motif: PIP.motif, width: 30, filler: true }],
      gap: 2,
      around: [place(PIP.motif, { at: [10, 10] }), place(PIP.motif, { at: [16, 10] })],
    });
    expect(notes.map((one) => one.code)).toEqual(["N_TOSS_ROOM", "N_TOSS_AROUND"]);
    const rare = { motif: ANGLE.motif, share: 0.001 };
    const space = { width: 60, height: 60 };
    const few = toss({ space, motifs: [{ motif: LEG.motif }, rare], gap: 4 });
    expect(few.notes.map((one) => [one.code, one.where])).toEqual([["N_TOSS_SHARE", "angle"]]);
  });

  // 4.3 lies between two numbers of single precision.
  it.each([5, 4.3])("measures the widest hole by the outlines, however far off they are: gap %d", (gap) => {
    const space = { width: 300, height: 200 };
    const { facts, placements } = toss({ space, motifs: [{ motif: PIP.motif }], gap, count: 1 });
    // The farthest place of a straight repeat from its one motif is the middle of four.
    const far = Math.hypot(150, 100);
    expect(facts.hole.diameter / 2).toBeLessThan(far);
    expect(facts.hole.diameter / 2).toBeGreaterThan(0.9 * far);
    const [x, y] = [facts.hole.x, facts.hole.y];
    const all = placements.flatMap((one) =>
      [-300, 0, 300].flatMap((dx) =>
        [-200, 0, 200].flatMap((dy) => cornersOf(one).map((c) => Math.hypot(c[0] + dx - x, c[1] + dy - y))),
      ),
    );
    expect(facts.hole.diameter / 2).toBeLessThanOrEqual(Math.min(...all) + 1e-9);
    // A rectangle of 4.4 by 2.4 mm and two triangles of 1.3 mm.
    const area = 4.4 * 2.4 + 4.4 * 1.3;
    // A little of the gap is added around its outline of some 15 mm.
    const found = facts.covered * 60_000;
    expect([found > 0.95 * area, found < 1.05 * area + 0.1 * 15]).toEqual([true, true]);
  });

  it("refuses what is no number, and what would take forever, at once", () => {
    const one = { motif: LEG.motif };
    for (const gap of [0, -1, Number.NaN, Infinity]) expect(refusal({ gap })).toBe("E_NUMBER");
    for (const count of [0, 1.5, Number.NaN, 1e9]) expect(refusal({ count })).toBe("E_NUMBER");
    for (const seed of [-1, 0.5, Number.NaN, 2 ** 32]) expect(refusal({ seed })).toBe("E_NUMBER");
    for (const width of [0, Number.NaN, 1e9]) {
      expect(refusal({ motifs: [{ ...one, width }] })).toBe("E_NUMBER");
      expect(refusal({ space: { width, height: 60 } })).toBe("E_NUMBER");
      expect(refusal({ space: { repeat: width, from: 0, to: 60 } })).toBe("E_NUMBER");
    }
    for (const share of [0, -1, Number.NaN])
      expect(refusal({ motifs: [{ ...one, share }] })).toBe("E_NUMBER");
    for (const turn of [[], [Number.NaN], { from: 10, to: 10 }, { from: 0, to: Infinity }])
      expect(refusal({ motifs: [{ ...one, turn }] })).toBe("E_NUMBER");
    expect(refusal({ motifs: [] })).toBe("E_NUMBER");
    expect(refusal({ motifs: [{ ...one, width: [5, 4] }] })).toBe("E_SIZE");
    expect(refusal({ space: { repeat: 60, from: 10, to: 10 } })).toBe("E_BAND");
    expect(refusal({ space: { width: 60, height: 60, layout: { ends: 5, move: 4 } } })).toBe("E_LAYOUT");
    const dust = { space: { width: "64cm", height: "64cm" }, gap: 0.1 } as const;
    expect(refusal({ ...dust, motifs: [{ ...one, width: 0.5 }] })).toBe("E_NUMBER");
    expect(refusal({ ...dust, motifs: [one, { motif: PIP.motif, width: 0.5, filler: true }] })).toBe(
      "E_NUMBER",
    );
    const bare = motif('<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"/>', {
      name: "bare",
    });
    expect(refusal({ motifs: [{ motif: bare }] })).toBe("E_SIZE");
    const specks = Array.from({ length: 8_100 }, (_, k) => `M${k % 90} ${Math.floor(k / 90)}h.4v.4z`).join(
      "",
    );
    const sand = `<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm" viewBox="0 0 90 90"><path d="${specks}"/></svg>`;
    expect(refusal({ motifs: [{ motif: motif(sand, { name: "sand" }) }] })).toBe("E_LIMIT");
  });

  it("refuses a motif that its own repeats leave no room, and names a width that has", () => {
    const space = { width: 40, height: 36, layout: "brick" } as const;
    const at = (width: string | number) => toss({ space, motifs: [{ motif: LEG.motif, width }], gap: 3 });
    const refused = (() => {
      try {
        at(80);
      } catch (error) {
        return error instanceof RepetendError ? error : undefined;
      }
      return undefined;
    })();
    expect([refused?.code, refused?.where]).toEqual(["E_SIZE", "toss.motifs[0].width"]);
    const width = /at most ([\d.]+) mm/.exec(refused?.accepted ?? "")?.[1] ?? "0";
    expect(at(`${width} mm`).placements.length).toBe(1);
    const band = { repeat: 200, from: 0, to: 20 } as const;
    expect(() => toss({ space: band, motifs: [{ motif: ANGLE.motif, width: 40 }], gap: 3 })).toThrow(
      "E_SIZE",
    );
  });
});
