import { describe, expect, it } from "vitest";
import { dress } from "../dress/dress.js";
import { page, SCALE } from "../dress.fixture.js";
import { shoreBorder, wrapDress } from "../sketches.fixture.js";

describe("folds of draped cloth", () => {
  it("reports folds with their place, and none where there are none", () => {
    const hourglass = page(
      '<path id="p" d="M10 10H90C30 40 30 60 90 90H10C70 60 70 40 10 10Z" fill="#fff"/>',
    );
    const folded = dress(hourglass, shoreBorder(), {
      scale: { of: "#l", is: "100cm" },
      panels: [{ panel: "#p", drape: true }],
    });
    const [fold] = folded.report.notes.filter(({ code }) => code === "N_FOLD");
    expect(fold?.message).toMatch(/near (4|5)\d\.\d+, (4|5)\d\.\d+/);
    const sound = dress(wrapDress(), shoreBorder(), {
      scale: SCALE,
      panels: [{ panel: "#skirt-front", drape: true }],
    });
    expect(sound.report.notes).toEqual([]);
  });

  it("proves a fold too small for any grid, and says where none can be ruled out", () => {
    const notesOf = (panel: string) =>
      dress(page(panel), shoreBorder(), {
        scale: { of: "#l", is: "100cm" },
        panels: [
          {
            panel: "#p",
            drape: {
              corners: [
                [10, 10],
                [90, 10],
                [90, 90],
                [10, 90],
              ],
            },
          },
        ],
      }).report.notes.map(({ code, level }) => [code, level]);
    expect(notesOf('<path id="p" d="M10 10H90V90H10V52C13 46 13 54 10 48Z" fill="#fff"/>')).toEqual([
      ["N_FOLD", "warning"],
    ]);
    // The upper right corner is drawn away: the sides run into each other there.
    expect(notesOf('<path id="p" d="M10 10H70C90 10 90 10 90 30V90H10Z" fill="#fff"/>')).toEqual([
      ["N_FOLD_OPEN", "info"],
    ]);
  });
});
