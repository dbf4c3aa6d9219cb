import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cosineAndSine, keepTurn, readTurns } from "./turns.js";

describe("turns", () => {
  it("have the cosine and sine of the machine, to 2e-16, and the plain ones exactly", () => {
    fc.assert(
      fc.property(fc.double({ min: -720, max: 720, noNaN: true }), (degrees) => {
        const [cosine, sine] = cosineAndSine(degrees);
        const radians = (degrees * Math.PI) / 180;
        // A turn of 720 degrees in radians is rounded to 1e-15 itself.
        expect(Math.abs(cosine - Math.cos(radians))).toBeLessThan(3e-15);
        expect(Math.abs(sine - Math.sin(radians))).toBeLessThan(3e-15);
      }),
    );
    expect([0, 90, 180, 270, -90].map((turn) => cosineAndSine(turn).map((one) => one + 0))).toEqual([
      [1, 0],
      [0, 1],
      [-1, 0],
      [0, -1],
      [0, -1],
    ]);
  });

  it("are kept in their range, go round where they may, and stay as they are in a list", () => {
    const read = (turn: Parameters<typeof readTurns>[0]) => readTurns(turn, "leaf", "turn");
    expect(keepTurn(read("any"), -30)).toBe(330);
    expect(keepTurn(read({ from: -200, to: 200 }), 725.004)).toBe(5);
    expect([-90, 12.3456, 90].map((turn) => keepTurn(read({ from: -20, to: 20 }), turn))).toEqual([
      -20, 12.35, 20,
    ]);
    expect(keepTurn(read([0, 45.1234]), 45.1234)).toBe(45.1234);
  });
});
