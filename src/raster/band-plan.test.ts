import { describe, expect, it } from "vitest";
import { motif } from "../motif/index.js";
import {
  border,
  brick,
  halfDrop,
  type Print,
  pixelGrid,
  pixelPrint,
  place,
  satin,
  stepped,
  straight,
} from "../repeat/index.js";
import { type BandPlan, pieceWidth, planBands } from "./band-plan.js";

const dot = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm" viewBox="0 0 10 10">' +
    '<circle cx="5" cy="5" r="4" fill="#c8553d"/></svg>',
  { name: "dot" },
);
const motifs = [place(dot, { at: [10, 10] })];
const cell = { name: "Dots", width: 96, height: 120, ground: "#1b2a41", motifs };

const plan = (print: Print, dpi: number): BandPlan => {
  const grid = pixelGrid(print, { dpi });
  return planBands(pixelPrint(print, grid), grid);
};
const rendered = ({ tasks }: BandPlan) =>
  tasks.flatMap(({ parts }) => parts).reduce((sum, { width, height }) => sum + width * height, 0);

describe("planBands", () => {
  const prints: readonly (readonly [string, Print, number])[] = [
    ["straight", straight(cell), 1],
    ["half-drop", halfDrop(cell), 1 / 2],
    ["brick", brick(cell), 1 / 2],
    ["stepped 2/3 along columns", stepped({ ...cell, along: "column", step: "2/3" }), 1 / 3],
    ["stepped 1/4 along rows", stepped({ ...cell, along: "row", step: "1/4" }), 1 / 4],
    ["satin", satin({ ...cell, ends: 5, move: 2 }), 1],
  ];
  it.each(prints)("fills a %s tile, and renders each of its pixels once", (_, print, share) => {
    for (const dpi of [23, 300, 1203]) {
      const { width, height, unit, strip, tasks, ...rest } = plan(print, dpi);
      const bands = tasks.flatMap((task) => task.bands).sort((one, other) => one.y - other.y);
      let y = 0;
      for (const band of bands) {
        expect([band.y, band.y % unit]).toEqual([y, 0]);
        let x = 0;
        for (const patch of band.patches) {
          expect(patch.to).toBe(x);
          x += patch.width;
        }
        expect(x).toBe(width);
        y += band.height;
      }
      expect([y, height % unit]).toEqual([height, 0]);
      expect(rendered({ width, height, unit, strip, tasks, ...rest })).toBe(width * height * share);
      if (bands.length > 1)
        expect(unit >= 16 || strip === unit || bands.every((band) => band.y % strip === 0)).toBe(true);
    }
  });

  it("keeps a rendering below 16 MiB without its overscan, and a band to 512 rows at least and 4096 at most", () => {
    for (const [, print] of prints) {
      for (const dpi of [10, 300, 720, 5000]) {
        const { width, unit, tasks } = plan(print, dpi);
        for (const { bands, parts } of tasks) {
          for (const { height } of bands) expect(height).toBeLessThanOrEqual(4096);
          const pixels = bands.reduce((sum, { height }) => sum + height * width, 0);
          expect(pixels < 2 ** 23 || bands.every(({ height }) => height <= Math.max(unit, 512))).toBe(true);
          for (const part of parts) {
            const most = pieceWidth(part.height);
            expect(most).toBeGreaterThan(100);
            expect(Math.min(most, part.width) * part.height).toBeLessThan(2 ** 22);
          }
        }
      }
    }
  });

  it("renders bands of a border with a short period once, where the period is whole pixels", () => {
    const motifs = [place(dot, { at: [40, 250], width: 480 })];
    const bands = [
      { name: "wide", from: 0, to: 500, motifs },
      { name: "short", from: 500, to: 1000, period: "8cm", motifs },
      { name: "plain", from: 1000, to: 1500, ground: "#1b2a41" },
    ];
    const hem = border({ name: "Hem", repeat: "32cm", width: 1500, bands });
    const widths = plan(hem, 254).tasks.map(({ parts }) => [parts[0]?.y ?? 0, parts[0]?.width]);
    expect(widths.filter(([y = 0]) => y < 4000).every(([, width]) => width === 3200)).toBe(true);
    expect(widths.some(([y = 0, width]) => y > 5000 && width === 800)).toBe(true);
    expect(widths.some(([y = 0, width]) => y > 10_000 && width === 1)).toBe(true);
    // At 100.8 dpi 32 cm are 1270 px, which four does not divide, but two does.
    expect(plan(hem, 100.8).tasks.map(({ parts }) => parts[0]?.width)).toContain(635);
  });
});
