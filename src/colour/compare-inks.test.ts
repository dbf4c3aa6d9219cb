import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { colourway } from "./colourway.js";
import { compareInks, nearestInk } from "./compare-inks.js";
import { colourDifference } from "./difference.js";

const SAND = "#f2ead8";
const NIGHT = "#1b2a41";
const REED = "#6b7f2a";

describe("compareInks", () => {
  it("finds nothing in a colourway that names each ink and keeps them apart", () => {
    const swapped = colourway("Swapped", { [SAND]: NIGHT, [NIGHT]: SAND, [REED]: REED });
    expect(compareInks([SAND, NIGHT, REED], swapped, { strict: true })).toEqual([]);
  });

  it("finds an ink without an entry", () => {
    expect(compareInks([SAND, NIGHT], colourway("Dusk", { [SAND]: "#334455" }))).toEqual([
      {
        level: "warning",
        code: "N_INK_MISSING",
        where: NIGHT,
        message: `colourway "Dusk" has no entry for ink ${NIGHT}, which stays as drawn`,
      },
    ]);
  });

  it("finds an entry that must be meant for an ink without one, with the difference", () => {
    const notes = compareInks([SAND, NIGHT], colourway("Dusk", { [SAND]: SAND, "#1b2a42": "#000" }));
    const difference = colourDifference(NIGHT, "#1b2a42").toFixed(2);
    expect(notes.map((note) => note.code)).toEqual(["N_INK_MISSING", "N_INK_UNKNOWN"]);
    expect(notes[1]).toMatchObject({
      level: "warning",
      message: `colourway "Dusk" names ink #1b2a42, which the print lacks: nearest is ${NIGHT}, ${difference} in CIEDE2000 away`,
    });
  });

  it("takes the table of a collection, with entries for other prints, and names them in one note", () => {
    const shared = { [SAND]: SAND, [NIGHT]: NIGHT, [REED]: REED, "#1b2a42": "#000000" };
    const notes = compareInks([SAND, NIGHT], colourway("Dusk", shared), { strict: true });
    expect(notes).toEqual([
      {
        level: "info",
        code: "N_INK_UNUSED",
        where: REED,
        message: `the table of colourways also names ${REED}, #1b2a42, which this print does not use`,
      },
    ]);
    expect(compareInks([SAND, NIGHT], colourway("Dawn", shared))).toEqual(notes);
    expect(compareInks([], colourway("Dusk", { red: "blue" })).map((note) => note.code)).toEqual([
      "N_INK_UNUSED",
    ]);
  });

  it("finds inks that run into one, just below 1 and not at it", () => {
    // Greys 118 and 119 of 255 are about 0.4 apart, 118 and 121 about 1.1.
    const entries = (grey: string) => colourway("Fog", { [SAND]: "#767676", [NIGHT]: grey });
    expect(colourDifference("#767676", "#777777")).toBeLessThan(1);
    expect(compareInks([SAND, NIGHT], entries("#777777"))[0]).toMatchObject({
      code: "N_INKS_MERGE",
      where: SAND,
    });
    expect(colourDifference("#767676", "#797979")).toBeGreaterThan(1);
    expect(compareInks([SAND, NIGHT], entries("#797979"))).toEqual([]);
    expect(compareInks([SAND, NIGHT], entries("#767676"))[0]?.message).toMatch(/they both become #767676$/);
  });

  it("finds an ink that runs into one that stays as drawn", () => {
    const codes = compareInks([SAND, NIGHT], colourway("Dusk", { [SAND]: NIGHT })).map((note) => note.code);
    expect(codes).toEqual(["N_INK_MISSING", "N_INKS_MERGE"]);
  });

  it("refuses the first of them when strict", () => {
    expect(() => compareInks([SAND], colourway("Dusk", {}), { strict: true })).toThrow(
      /^E_COLOURWAY #f2ead8: colourway "Dusk" has no entry/,
    );
  });

  it("takes the inks in any spelling, once each", () => {
    expect(compareInks(["WHITE", "#fff", "rgb(255 255 255)"], colourway("Dusk", { white: "black" }))).toEqual(
      [],
    );
  });
});

describe("nearestInk", () => {
  it("is no further than any other", () => {
    const ink = fc
      .integer({ min: 0, max: 0xffffff })
      .map((value) => `#${value.toString(16).padStart(6, "0")}`);
    fc.assert(
      fc.property(ink, fc.array(ink, { minLength: 1, maxLength: 6 }), (one, others) => {
        const near = nearestInk(one, others);
        for (const other of others) {
          expect(near?.difference).toBeLessThanOrEqual(colourDifference(one, other));
        }
        expect(others).toContain(near?.ink);
      }),
    );
    expect(nearestInk("#000000", [])).toBeUndefined();
  });
});
