import { describe, expect, it } from "vitest";
import { dress } from "../dress/dress.js";
import { writeDressed } from "../dress/write-dressed.js";
import { SCALE } from "../dress.fixture.js";
import { differingShare, renderPixels } from "../pictures.fixture.js";
import { readSketch } from "../sketch/read-sketch.js";
import { hookHalfDrop, shoreBorder, wrapDress } from "../sketches.fixture.js";

describe("panels that mirror each other", () => {
  it("mirror: left and right sleeves are mirror images", () => {
    const sketch = readSketch(
      `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
       <line id="l" x1="50" y1="0" x2="50" y2="60" stroke="#000" stroke-width="0.2"/>
       <path id="left" d="M40 5L35 40L5 50L10 20Z" fill="#fff" stroke="#000"/>
       <path id="right" d="M60 5L65 40L95 50L90 20Z" fill="#fff" stroke="#000"/></svg>`,
    );
    for (const drape of [false, true]) {
      const dressed = dress(sketch, hookHalfDrop(), {
        scale: { of: "#l", is: "60cm" },
        panels: [
          { panel: "#left", grain: drape ? 0 : 25, drape },
          { panel: "#right", mirrors: "#left" },
        ],
      });
      expect(dressed.report.panels[1]?.mirrored).toBe("artwork");
      expect(dressed.report.notes.filter(({ code }) => code === "N_MIRROR")).toEqual([]);
      const { data, width, height } = renderPixels(writeDressed(dressed), 400);
      const flipped = new Uint8Array(data.length);
      for (let y = 0; y < height; y += 1)
        for (let x = 0; x < width; x += 1) {
          const from = 4 * (y * width + x);
          flipped.set(data.subarray(from, from + 4), 4 * (y * width + width - 1 - x));
        }
      expect(differingShare(data, flipped, 24)).toBeLessThan(1e-4);
      // And there is a print to be mirrored.
      expect(new Set(data).size).toBeGreaterThan(20);
    }
  });

  it("mirror by placement: the print keeps its face, level and phase are mirrored", () => {
    const dressed = dress(wrapDress(), shoreBorder(), {
      scale: SCALE,
      panels: [
        { panel: "#sleeve-left", band: "hem", grain: 10 },
        { panel: "#sleeve-right", mirrors: "#sleeve-left", mirrored: "placement" },
      ],
    });
    const [left, right] = dressed.report.panels;
    expect(right?.mirrored).toBe("placement");
    expect(right?.grain).toBeCloseTo(-10, 9);
    expect(right?.takes.y).toBeCloseTo(left?.takes.y ?? Number.NaN, 6);
    expect(right?.takes.x).toBeCloseTo(-(left?.takes.x ?? Number.NaN) - (left?.takes.width ?? 0), 6);
  });

  it("mirror: a panel is known by its fill however that is written", () => {
    const sketch = readSketch(
      `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
       <path id="l" d="M10 10H40V50H10Z" fill="#ffcc00"/><path id="r" d="M60 10H90V50H60Z" fill="#00ccff"/></svg>`,
    );
    const { report } = dress(sketch, hookHalfDrop(), {
      scale: { of: "#l", is: "60cm" },
      panels: [{ panel: { fill: "#fc0" } }, { panel: "#r", mirrors: { fill: "#FFCC00" } }],
    });
    expect(report.panels[1]?.mirrored).toBe("artwork");
  });

  it("mirror: says by how much the partner is no mirror image", () => {
    const { report } = dress(wrapDress(), shoreBorder(), {
      scale: SCALE,
      panels: [{ panel: "#sleeve-left" }, { panel: "#pocket", mirrors: "#sleeve-left" }],
    });
    expect(report.notes.some(({ code }) => code === "N_MIRROR")).toBe(true);
  });
});
