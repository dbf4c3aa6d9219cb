import { describe, expect, it } from "vitest";
import type { RepetendError } from "../../errors.js";
import { pathBounds } from "../../geometry/path-bounds.js";
import { dress } from "../dress/dress.js";
import { shoreBorder, wrapDress } from "../sketches.fixture.js";
import { readSketch } from "./read-sketch.js";
import { sketchScale } from "./scale.js";
import { choosePanels } from "./select.js";

const refused = (code: string) => expect.objectContaining({ code }) as RepetendError;
const svg = (inner: string) =>
  readSketch(
    `<svg xmlns="http://www.w3.org/2000/svg" width="10cm" height="10cm" viewBox="0 0 100 100">${inner}</svg>`,
  );

describe("readSketch", () => {
  it("finds panels by id, by class, by fill, and by the group around them, shading left out", () => {
    const sketch = wrapDress();
    const ids = (choice: Parameters<typeof choosePanels>[1]) =>
      choosePanels(sketch, choice).map((shape) => shape.ids[0]);
    expect(ids("#bodice")).toEqual(["bodice"]);
    expect(ids(".sleeve")).toEqual(["sleeve-left", "sleeve-right"]);
    expect(ids({ fill: "white" })).toEqual(["skirt-front", "bodice", "sleeve-left", "sleeve-right"]);
    // The group holds a stitching line too, which has no area to fill.
    expect(ids("#skirt")).toEqual(["skirt-front"]);
  });

  it("resolves nested groups and transforms to the sketch", () => {
    const sketch = svg(
      '<g transform="translate(10 0)"><g transform="scale(2)"><rect id="p" x="5" y="5" width="10" height="20" transform="rotate(90 10 15)"/></g></g>',
    );
    const [panel] = choosePanels(sketch, "#p");
    const box = panel && pathBounds(panel.outline);
    expect(box?.x).toBeCloseTo(10, 6);
    expect(box?.y).toBeCloseTo(20, 6);
    expect(box?.width).toBeCloseTo(40, 6);
    expect(box?.height).toBeCloseTo(20, 6);
  });

  it("takes a panel that is drawn as an outline only, when it is meant itself", () => {
    const sketch = svg('<path id="p" d="M1 1H9V9H1Z" fill="none" stroke="#000"/>');
    expect(choosePanels(sketch, "#p")).toHaveLength(1);
  });

  it("says what there is when a panel is not there", () => {
    expect(() => choosePanels(wrapDress(), "#yoke")).toThrow(/#skirt-front/);
    expect(() => choosePanels(wrapDress(), "#yoke")).toThrow(refused("E_ID"));
    expect(() => choosePanels(wrapDress(), "yoke")).toThrow(refused("E_ID"));
    expect(() => choosePanels(wrapDress(), "#length-line")).toThrow(refused("E_ID"));
    expect(() => choosePanels(wrapDress(), { fill: "blurple" })).toThrow(refused("E_COLOUR"));
  });
});

describe("sketchScale", () => {
  it("reads a line by its length, a shape by its height or width, and two points", () => {
    const sketch = wrapDress();
    const byLine = sketchScale(sketch, { of: "#length-line", is: "82cm" });
    expect(byLine.perUnit).toBeCloseTo(2, 9);
    // Two units a mm: 4 mm a mm of the page.
    expect(byLine.ratio).toBeCloseTo(4, 9);
    expect(sketchScale(sketch, { from: [0, 50], to: [0, 460], is: "82cm" }).perUnit).toBeCloseTo(2, 9);
    expect(sketchScale(sketch, { of: "#pocket", is: "6cm" }).perUnit).toBeCloseTo(2, 9);
    expect(sketchScale(sketch, { of: "#pocket", is: "6cm", across: "width" }).perUnit).toBeCloseTo(1.5, 9);
  });

  it("measures a curved line along the curve", () => {
    // A quarter circle of radius 40.
    const sketch = svg('<path id="l" d="M10 50A40 40 0 0 1 50 10" fill="none" stroke="#000"/>');
    expect(sketchScale(sketch, { of: "#l", is: 20 * Math.PI }).perUnit).toBeCloseTo(1, 5);
  });

  it("says what a 52 in garment leaves of a 58 in print", () => {
    // Common practice: border cloth 58 in wide, an ankle-length dress about 52 in from the shoulder.
    const { report } = dress(wrapDress(), shoreBorder(), {
      scale: { of: "#length-line", is: "52in" },
      panels: [{ panel: "#skirt-front", band: "hem" }],
    });
    expect(report.spare).toBeCloseTo(6 * 25.4, 9);
    expect(report.says).toMatch(/147\.3 cm \(58 in\) wide.*132\.1 cm \(52 in\): 15\.2 cm \(6 in\) are left/);
  });

  it("refuses what spans nothing, and what spans several lengths", () => {
    const sketch = wrapDress();
    expect(() => sketchScale(sketch, { of: ".sleeve", is: "1m" })).toThrow(refused("E_ID"));
    expect(() => sketchScale(sketch, { of: "#nothing", is: "1m" })).toThrow(refused("E_ID"));
    expect(() => sketchScale(sketch, { of: "#pocket", is: 0 })).toThrow(refused("E_SIZE"));
    expect(() => sketchScale(sketch, { from: [1, 1], to: [1, 1], is: "1m" })).toThrow(refused("E_SIZE"));
  });
});
