import { describe, expect, it } from "vitest";
import { motif } from "../../motif/index.js";
import { rasterise, rasterisePrint } from "../../raster/index.js";
import { straight } from "../build/all-over.js";
import { place } from "../build/place.js";
import { field } from "./field.js";
import { writePixels } from "./field-pixels.js";
import { overhangOf } from "./seen-motif.js";

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

  it("is rendered whole where groups lie in groups, band by band", async () => {
    const nested = motif(
      '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="2000mm" viewBox="0 0 100 2000">' +
        '<g opacity=".8"><path d="M0 0H100V2000H0Z" fill="#f2ead8"/><g opacity=".5"><path d="M10 5H60L50 1990H20Z" fill="#1b2a41"/>' +
        '<path d="M30 1500H45V1980H30Z" fill="#c8553d"/></g></g></svg>',
      { name: "nested" },
    );
    // So wide that a band has some 400 rows.
    const tall = straight({
      name: "Tall",
      width: 10_000,
      height: 2100,
      motifs: [place(nested, { at: [55, 1010] })],
    });
    const window = { x: 0, y: 1700, width: 100, height: 200 };
    const image = await rasterisePrint(tall, { dpi: 25.4, window });
    const at = (x: number, y: number) => [
      ...image.data.subarray((y - window.y) * image.stride + 4 * x).subarray(0, 4),
    ];
    // Ground of the motif 0.8; on it half of an ink; the ink on top of the other within the same group.
    const near = (one: readonly number[], other: readonly number[]) =>
      one.every((level, k) => Math.abs(level - (other[k] ?? 0)) <= 2);
    expect(near(at(10, 1800), [0xf2, 0xea, 0xd8, 204])).toBe(true);
    expect(near(at(29, 1800), [135, 138, 141, 204])).toBe(true);
    expect(near(at(40, 1800), [221, 160, 139, 204])).toBe(true);
  });
});

describe("how much more is rendered around a window", () => {
  const window = { x: 0, y: 0, width: 100, height: 100 };
  const around = (defs: string, painted: string) => {
    const drawn = motif(
      `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">${defs}${painted}</svg>`,
      { name: "near" },
    );
    const near = straight({
      name: "Near",
      width: 400,
      height: 400,
      motifs: [place(drawn, { at: [50, 50] })],
    });
    return overhangOf(near, window, window).x;
  };
  const spot = (x: number) => `<rect x="${x}" width="10" height="10" fill="#ffffff" opacity=".5"/>`;

  it("goes by what masks hold, however near the motif is", () => {
    const mask = (x: number) =>
      `<mask id="m"><rect width="50" height="50" fill="#ffffff"/><g>${spot(0)}${spot(x)}</g></mask>`;
    // In the mask's mask nothing is left out.
    const masked = (x: number) =>
      `${mask(x)}<mask id="n" mask="url(#m)"><rect width="50" height="50" fill="#ffffff"/></mask>`;
    const square = '<rect width="90" height="90" fill="#c8553d" mask="url(#n)"/>';
    expect(around(masked(300), square)).toBeGreaterThan(window.width);
    expect(around(masked(40), square)).toBeLessThanOrEqual(window.width - 8);
  });

  it("goes by what patterns hold, where no group is translucent", () => {
    const pattern = (x: number) =>
      `<pattern id="p" patternUnits="userSpaceOnUse" width="20" height="20">${spot(0)}${spot(x)}</pattern>`;
    const square = '<rect width="90" height="90" fill="url(#p)"/>';
    expect(around(pattern(300), square)).toBeGreaterThan(window.width);
    expect(around(pattern(40), square)).toBeLessThanOrEqual(window.width - 8);
  });
});
