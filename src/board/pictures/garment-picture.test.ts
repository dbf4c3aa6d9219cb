import { describe, expect, it } from "vitest";
import { dress, readSketch } from "../../garment/index.js";
import { readPath } from "../../geometry/index.js";
import { straight } from "../../repeat/index.js";
import { childElements, type SvgElement } from "../../svg/index.js";
import { garmentOf } from "../boards.fixture.js";
import { measureGarment, thinGarment } from "./garment-picture.js";

const pathsOf = (body: readonly SvgElement[]): readonly string[] =>
  body.flatMap((one) => [one.attributes.d ?? "", ...pathsOf(childElements(one))]);

describe("measureGarment", () => {
  it("knows how large a garment is, without the white of its page", () => {
    const { box, width, height } = measureGarment(garmentOf("Smock", 80, 75));
    expect([box.x, box.y, box.width, box.height].map((value) => Number(value.toFixed(6)))).toEqual([
      10, 10, 80, 75,
    ]);
    expect([width, height].map((value) => Math.round(value))).toEqual([800, 750]);
  });
});

describe("thinGarment", () => {
  it.each([0.02, 0.1, 0.5])("leaves every point where it is seen on the page, at 1 to %f", (scale) => {
    const sketch = readSketch(
      '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">' +
        '<path id="front" d="M10.123456 10.654321C20.111111 5.222222 80.333333 5.444444 90.987654 10.123456L85.5 90.25H12.75Z" fill="#ffffff"/>' +
        '<g transform="scale(3.7)"><path d="M5.123456 5.654321C7.111111 6.222222 9.333333 8.444444 11.987654 9.123456" fill="none" stroke="#222222"/></g></svg>',
    );
    const print = straight({ name: "Plain", width: 80, height: 80, ground: "#1b2a41", motifs: [] });
    const panels = [{ panel: "#front", drape: true }];
    const picture = measureGarment(dress(sketch, print, { scale: { of: "#front", is: "80cm" }, panels }));
    const [before, after] = [picture, thinGarment(picture, scale)].map(({ dressed }) =>
      pathsOf(dressed.body),
    );
    expect(after?.join("").length).toBeLessThan(before?.join("").length ?? 0);
    const perUnit = scale * picture.dressed.report.scale.perUnit;
    for (const [k, d] of (before ?? []).entries()) {
      const [was, is] = [d, after?.[k] ?? ""].map((one) =>
        readPath(one).subpaths.flatMap(({ points }) => points),
      );
      expect(is?.length).toBe(was?.length);
      for (const [at, value] of (was ?? []).entries()) {
        // Inside the group a unit is 3.7 times as large.
        const off = Math.abs(value - (is?.[at] ?? Number.NaN)) * perUnit * 3.7;
        expect(off).toBeLessThan(0.004 * 3.7);
      }
    }
  });
});
