import { describe, expect, it } from "vitest";
import { colourway } from "../../colour/index.js";
import type { RepetendError } from "../../errors.js";
import { applyTo } from "../../geometry/affine.js";
import { pathBounds } from "../../geometry/path-bounds.js";
import { motif } from "../../motif/index.js";
import { straight } from "../../repeat/build/all-over.js";
import { place } from "../../repeat/build/place.js";
import { recolour } from "../../repeat/inks/recolour.js";
import { dress } from "../dress/dress.js";
import { writeDressed } from "../dress/write-dressed.js";
import { page, SCALE } from "../dress.fixture.js";
import { differingShare, renderPixels, shapesOf } from "../pictures.fixture.js";
import { SEED, wrapDress } from "../sketches.fixture.js";

describe("gradients and filters on draped cloth", () => {
  it("mirrors filters with the artwork, and names the panel of one that cannot be draped", () => {
    const shifted = (step: string) =>
      straight({
        name: "Shifted",
        width: 60,
        height: 60,
        motifs: [
          place(
            motif(
              `<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="40mm" viewBox="0 0 40 40"><filter id="f" filterUnits="userSpaceOnUse" x="0" y="0" width="40" height="40">${step}</filter><path d="M2 10H20V30H12V18H2Z" fill="#1b2a41" filter="url(#f)"/></svg>`,
              { name: "shifted", filters: true },
            ),
            { at: [30, 30] },
          ),
        ],
      });
    const sketch = page(
      '<path id="p" d="M10 10L45 14V90H5Z" fill="#fff"/><path id="q" d="M90 10L55 14V90H95Z" fill="#fff"/>',
    );
    const dressed = (step: string) =>
      dress(sketch, shifted(step), {
        scale: { of: "#l", is: "40cm" },
        panels: [
          { panel: "#p", drape: true },
          { panel: "#q", mirrors: "#p" },
        ],
      });
    const { data, width, height } = renderPixels(writeDressed(dressed('<feOffset dx="15" dy="4"/>')), 400);
    const flipped = new Uint8Array(data.length);
    for (let y = 0; y < height; y += 1)
      for (let x = 0; x < width; x += 1)
        flipped.set(
          data.subarray(4 * (y * width + x), 4 * (y * width + x) + 4),
          4 * (y * width + width - 1 - x),
        );
    // The length line stands at the left edge only, two pixels wide; a renderer shifts by whole pixels.
    expect(differingShare(data, flipped, 150)).toBeLessThan(0.01 + 0.001);
    expect(new Set(data).size).toBeGreaterThan(20);
    expect(() => dressed('<feTurbulence baseFrequency="0.1"/>')).toThrow(
      expect.objectContaining({ code: "E_FEATURE", input: "#p" }) as RepetendError,
    );
  });

  it("lists gradients as approximate and lays them by the best local map", () => {
    const print = straight({
      name: "Seeds",
      width: 100,
      height: 100,
      ground: "#ffffff",
      motifs: [place(SEED, { at: [50, 50], width: 80 })],
    });
    const dressed = dress(wrapDress(), print, {
      scale: SCALE,
      panels: [{ panel: "#skirt-front", drape: true }],
    });
    expect(dressed.report.notes).toEqual([expect.objectContaining({ code: "N_APPROXIMATE", level: "info" })]);
    const gradients = dressed.printDefs.filter(({ name }) => name === "linearGradient");
    expect(gradients.length).toBeGreaterThan(5);
    for (const { attributes } of gradients) expect(attributes.gradientUnits).toBe("userSpaceOnUse");
    // The gradient runs across each seed: its two ends lie left and right of the seed's middle.
    const [seed] = shapesOf(writeDressed(dressed)).filter(({ element }) =>
      element.attributes.fill?.startsWith("url("),
    );
    const box = seed && pathBounds(seed.outline);
    const id = seed?.element.attributes.fill?.slice(5, -1);
    const gradient = gradients.find(({ attributes }) => attributes.id === id);
    const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0] =
      (gradient?.attributes.gradientTransform ?? "").match(/-?[\d.]+/g)?.map(Number) ?? [];
    const map = { a, b, c, d, e, f };
    const [from, to] = [applyTo(map, { x: 0, y: 0.5 }), applyTo(map, { x: 1, y: 0.5 })];
    expect(from.x).toBeCloseTo(box?.x ?? Number.NaN, -0.5);
    expect(to.x).toBeCloseTo((box?.x ?? 0) + (box?.width ?? 0), -0.5);
  });

  it("keeps two colourings of one gradient motif apart, flat and draped", () => {
    const [blue] = recolour(
      straight({ name: "Blue", width: 90, height: 90, motifs: [place(SEED, { at: [45, 45] })] }),
      colourway("Blue", { "#c8553d": "#123456", "#e3c16f": "#234567" }),
    ).motifs;
    if (!blue) throw new Error("no motif");
    const print = straight({
      name: "Seeds",
      width: 120,
      height: 60,
      ground: "#ffffff",
      motifs: [place(SEED, { at: [30, 30], width: 40 }), place(blue.motif, { at: [90, 30], width: 40 })],
    });
    for (const drape of [false, true]) {
      const { printDefs } = dress(wrapDress(), print, {
        scale: SCALE,
        panels: [{ panel: "#skirt-front", drape }],
      });
      const stops = new Set(
        printDefs
          .filter(({ name }) => name === "linearGradient")
          .map(({ children }) =>
            children.map((one) => (one.type === "element" ? one.attributes["stop-color"] : "")).join(" "),
          ),
      );
      expect([drape, ...stops].sort()).toEqual([drape, "#123456 #234567", "#c8553d #e3c16f"].sort());
    }
  });
});
