import { describe, expect, it } from "vitest";
import { motif } from "../motif/index.js";
import { rasterise, rasterisePrint } from "../raster/index.js";
import { straight } from "./all-over.js";
import { field } from "./field.js";
import { writePixels } from "./field-pixels.js";
import { place } from "./place.js";

// A panel ten times as tall as it is wide, with something translucent at its foot.
const panel = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="1000mm" viewBox="0 0 100 1000">' +
    '<rect width="100" height="1000" fill="#f2ead8"/>' +
    '<g opacity=".5"><rect x="10" y="920" width="30" height="60" fill="#c8553d"/><circle cx="50" cy="950" r="20" fill="#1b2a41"/></g></svg>',
  { name: "panel" },
);
const print = straight({
  name: "Panels",
  width: 200,
  height: 1100,
  motifs: [place(panel, { at: [50, 500] })],
});
const foot = "#c8553d";

describe("a motif much taller than a window", () => {
  it("is written for renderers without what lies far outside, which one of them does not survive", () => {
    expect(writePixels(print, { x: 0, y: 0, width: 100, height: 50 })).not.toContain(foot);
    expect(writePixels(print, { x: 0, y: 900, width: 100, height: 100 })).toContain(foot);
  });

  it("is written whole where the window is not far off, once for all its copies", () => {
    const svg = writePixels(print, { x: 0, y: 0, width: 400, height: 2000 });
    expect(svg.match(/#c8553d/g)).toHaveLength(1);
    expect(svg.match(/<use/g)?.length).toBeGreaterThan(3);
  });

  it("is rendered in small windows, at its head and at its foot", async () => {
    const at = async (y: number): Promise<readonly number[]> => {
      const image = await rasterise(field(print, { x: 20, y, width: 4, height: 4 }), { width: 4, height: 4 });
      return [...image.data.subarray(0, 4)];
    };
    expect(await at(100)).toEqual([0xf2, 0xea, 0xd8, 255]);
    expect(await at(930)).toEqual([221, 160, 139, 255]);
    const whole = await rasterisePrint(print, { dpi: 25.4 });
    const part = await rasterisePrint(print, { dpi: 25.4, window: { x: 0, y: 900, width: 100, height: 20 } });
    const row = (image: typeof whole, y: number) =>
      image.data.subarray(y * image.stride, y * image.stride + 400);
    for (const y of [0, 10, 19]) expect(row(part, y)).toEqual(row(whole, 900 + y));
  });
});
