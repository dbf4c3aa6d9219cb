import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { colourDifference, toLab } from "../../colour/index.js";
import { labDifference, writeLab } from "./lab.js";

const level = fc.integer({ min: 0, max: 255 });
const colour = fc.tuple(level, level, level);
const hex = (levels: readonly number[]): string =>
  `#${levels.map((value) => value.toString(16).padStart(2, "0")).join("")}`;

// The colour room is checked against the 34 published pairs; this faster route must agree with it.
describe("the fast route to CIEDE2000", () => {
  it("gives the Lab of the colour room", () => {
    fc.assert(
      fc.property(colour, ([r, g, b]) => {
        const lab = new Float32Array(3);
        writeLab(r, g, b, lab, 0);
        const own = toLab(hex([r, g, b]));
        for (const [i, value] of [own.l, own.a, own.b].entries()) expect(lab[i]).toBeCloseTo(value, 2);
      }),
    );
  });

  it("gives the difference of the colour room", () => {
    fc.assert(
      fc.property(colour, colour, (one, other) => {
        const lab = new Float32Array(6);
        writeLab(...one, lab, 0);
        writeLab(...other, lab, 3);
        expect(labDifference(lab, 0, 3)).toBeCloseTo(colourDifference(hex(one), hex(other)), 1);
      }),
    );
  });
});
