import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { colourway } from "../../colour/index.js";
import { mapBox } from "../../geometry/box.js";
import { allOverPrints, borderPrints, latticeVector, layouts, prints } from "../../testing/index.js";
import { inksOf } from "../inks/inks.js";
import { recolour } from "../inks/recolour.js";
import { field } from "./field.js";
import { layersInWindow } from "./layers.js";
import { pixelGrid } from "./pixel-grid.js";
import { tile } from "./tile.js";

const whole = (min: number, max: number) => fc.integer({ min, max });
const windows = fc.record({
  x: whole(-200, 200),
  y: whole(-200, 200),
  width: whole(1, 150),
  height: whole(1, 150),
});

/** What a field paints, each copy as its numbers; copies that only touch the window do not count. */
function paintedIn(
  print: Parameters<typeof layersInWindow>[0],
  window: { x: number; y: number; width: number; height: number },
) {
  return layersInWindow(print, window).flatMap((layer) => {
    if (layer.kind === "ground")
      return [`ground ${layer.ink} ${[layer.box.y - window.y, layer.box.height].map((v) => v.toFixed(4))}`];
    return layer.copies.flatMap(({ motif, map, station, shift }) => {
      const moved = {
        ...map,
        e: map.e + station.x + shift.x - window.x,
        f: map.f + station.y + shift.y - window.y,
      };
      const box = mapBox(moved, motif.reach);
      const inside =
        box.x < window.width - 1e-6 &&
        box.y < window.height - 1e-6 &&
        box.x + box.width > 1e-6 &&
        box.y + box.height > 1e-6;
      return inside
        ? [`${motif.name} ${Object.values(moved).map((v) => (Math.abs(v) < 5e-5 ? 0 : v).toFixed(4))}`]
        : [];
    });
  });
}

describe("the field", () => {
  it("is the same picture one lattice vector on, with the same paint order", () => {
    fc.assert(
      fc.property(prints(), windows, whole(-6, 6), whole(-6, 6), (print, window, i, j) => {
        const vector = latticeVector(print, i, j);
        const moved = { ...window, x: window.x + vector.x, y: window.y + vector.y };
        expect(paintedIn(print, moved)).toEqual(paintedIn(print, window));
      }),
    );
  });

  it("is not the same picture half a straight repeat on (the test above can fail)", () => {
    fc.assert(
      fc.property(allOverPrints({ layouts: layouts({ kinds: ["straight"] }) }), (print) => {
        const window = { x: 0, y: 0, width: print.width, height: print.height };
        expect(paintedIn(print, { ...window, x: print.width / 2 })).not.toEqual(paintedIn(print, window));
      }),
    );
  });

  it("of a border is empty beyond the selvedges", () => {
    fc.assert(
      fc.property(borderPrints(), whole(-300, 300), (print, x) => {
        for (const y of [-500, print.width]) {
          expect(layersInWindow(print, { x, y, width: 100, height: 500 })).toEqual([]);
        }
        for (const layer of layersInWindow(print, { x, y: -50, width: 100, height: print.width + 100 })) {
          if (layer.kind === "ground") {
            expect(layer.box.y).toBeGreaterThanOrEqual(0);
            expect(layer.box.y + layer.box.height).toBeLessThanOrEqual(print.width + 1e-9);
          } else {
            const leans = layer.copies.some(({ motif, map }) => {
              const box = mapBox(map, motif.reach);
              return box.y < 0 || box.y + box.height > print.width;
            });
            if (leans) expect(layer.clip).toBeDefined();
          }
        }
      }),
    );
  });

  it("writes plain numbers only", () => {
    fc.assert(
      fc.property(prints(), windows, (print, window) => {
        // Colours and ids hold letters of their own.
        const svg = field(print, window).replace(/#[\w-]+|id="[^"]*"/g, "");
        expect(svg).not.toMatch(/NaN|Infinity|undefined|\d[eE][+-]?\d|[\s"(]-0(?=[\s")])/);
      }),
      { numRuns: 40 },
    );
  });
});

describe("the tile", () => {
  it("laid edge to edge is the field: what crosses an edge stands again one tile on", () => {
    fc.assert(
      fc.property(prints(), (print) => {
        const { width, height } = tile(print);
        const painted = paintedIn(print, { x: 0, y: 0, width, height });
        expect(paintedIn(print, { x: width, y: 0, width, height })).toEqual(painted);
        if (print.kind === "all-over")
          expect(paintedIn(print, { x: 0, y: -height, width, height })).toEqual(painted);
      }),
    );
  });

  it("says along which axes it repeats, and the offset of a single cell", () => {
    fc.assert(
      fc.property(prints(), (print) => {
        expect(tile(print).repeats).toEqual({ x: true, y: print.kind === "all-over" });
        const { width, height, offset } = tile(print, { extent: "cell" });
        if (print.kind !== "all-over") return;
        const window = { x: 0, y: 0, width, height };
        const beside = offset.x === 0 ? { x: width, y: offset.y } : { x: offset.x, y: height };
        expect(paintedIn(print, { ...window, ...beside })).toEqual(paintedIn(print, window));
      }),
    );
  });
});

describe("recolouring", () => {
  it("there and back is the identity, even when inks trade places", () => {
    fc.assert(
      fc.property(prints(), fc.infiniteStream(fc.nat(1_000_000)), (print, chance) => {
        const inks = inksOf(print).map((use) => use.ink);
        const shuffled = inks
          .map((ink) => ({ ink, rank: chance.next().value }))
          .sort((one, other) => one.rank - other.rank)
          .map(({ ink }) => ink);
        const there = colourway("There", Object.fromEntries(inks.map((ink, k) => [ink, shuffled[k] ?? ink])));
        const back = colourway("Back", Object.fromEntries(inks.map((ink, k) => [shuffled[k] ?? ink, ink])));
        const { width, height } = tile(print);
        const window = { width, height };
        expect(field(recolour(recolour(print, there), back), window)).toBe(field(print, window));
      }),
    );
  });
});

describe("the pixel grid", () => {
  it("gives a p/q step a multiple of q pixels along the step, and whole tiles", () => {
    fc.assert(
      fc.property(prints(), fc.double({ min: 30, max: 1200, noNaN: true }), (print, dpi) => {
        const grid = pixelGrid(print, { dpi });
        for (const size of [grid.cell, grid.tile]) {
          expect(Number.isInteger(size.width) && Number.isInteger(size.height)).toBe(true);
        }
        expect(Number.isInteger(grid.offset.x) && Number.isInteger(grid.offset.y)).toBe(true);
        if (print.kind !== "all-over" || print.layout.kind !== "stepped") return;
        const { along, step } = print.layout;
        expect((along === "column" ? grid.cell.height : grid.cell.width) % step.q).toBe(0);
      }),
    );
  });

  it("makes the artwork larger by 1 / (1 - s) along the grain", () => {
    fc.assert(
      fc.property(borderPrints(), (print) => {
        const plain = pixelGrid(print, { dpi: 300 });
        const grown = pixelGrid(print, { dpi: 300, shrinkage: { warp: "4%", weft: "2%" } });
        expect(grown.mm.width).toBeCloseTo(plain.mm.width / 0.96, 9);
        expect(grown.mm.height).toBeCloseTo(plain.mm.height / 0.98, 9);
      }),
    );
  });
});
