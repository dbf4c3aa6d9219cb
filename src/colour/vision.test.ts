import { filterDeficiencyDeuter, filterDeficiencyProt, filterDeficiencyTrit, type Rgb } from "culori/fn";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { colourDifference } from "./difference.js";
import { hexToLinear, readHex } from "./spaces.js";
import { encodeSrgb } from "./transfer.js";
import { simulateVision, type Vision } from "./vision.js";

const visions: readonly Vision[] = ["protan", "deutan", "tritan"];
const ink = fc.integer({ min: 0, max: 0xffffff }).map((value) => `#${value.toString(16).padStart(6, "0")}`);

describe("simulateVision", () => {
  it("leaves greys as they are", () => {
    for (const vision of visions) {
      for (let level = 0; level < 256; level += 1) {
        const grey = `#${level.toString(16).padStart(2, "0").repeat(3)}`;
        expect(simulateVision(grey, vision)).toBe(grey);
      }
    }
  });

  it("has the published matrices, as another library copied them, on linear light", () => {
    const filters = {
      protan: filterDeficiencyProt,
      deutan: filterDeficiencyDeuter,
      tritan: filterDeficiencyTrit,
    };
    fc.assert(
      fc.property(ink, fc.constantFrom(...visions), (hex, vision) => {
        const seen = filters[vision](1)({ mode: "rgb", ...hexToLinear(hex) }) as Rgb;
        const mine = readHex(simulateVision(hex, vision));
        for (const key of ["r", "g", "b"] as const) {
          const theirs = Math.min(1, Math.max(0, encodeSrgb(seen[key])));
          expect(Math.abs(mine[key] - theirs)).toBeLessThan(0.501 / 255);
        }
      }),
    );
  });

  it("brings red and green together without the cones that tell them apart, and not without the short-wave ones", () => {
    const [reed, brick] = ["#6b7f2a", "#a8552c"] as const;
    const apart = (vision: Vision) =>
      colourDifference(simulateVision(reed, vision), simulateVision(brick, vision));
    expect(apart("deutan")).toBeLessThan(colourDifference(reed, brick) / 2);
    expect(apart("tritan")).toBeGreaterThan(colourDifference(reed, brick) / 2);
  });
});
