import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { colourway } from "./colourway.js";

describe("colourway", () => {
  it("reads both sides as CSS colours", () => {
    expect(colourway(" Low Tide ", { "#F2EAD8": "hsl(210 41% 18%)", SeaGreen: "#ABC" })).toEqual({
      kind: "colourway",
      name: "Low Tide",
      inks: { "#f2ead8": "#1b2e41", "#2e8b57": "#aabbcc" },
    });
  });

  it("lets two spellings of one ink agree, and refuses them when they do not", () => {
    expect(colourway("Dusk", { red: "#000", "#F00": "black" }).inks).toEqual({ "#ff0000": "#000000" });
    expect(() => colourway("Dusk", { red: "#000", "#F00": "#111" })).toThrow(
      'E_COLOURWAY inks["#F00"]: one ink of colourway "Dusk" is to become two (met "#ff0000 to #000000 and #111111")',
    );
  });

  it("refuses what is no solid colour, on either side", () => {
    expect(() => colourway("Dusk", { "#ff000080": "red" })).toThrow(
      /^E_COLOURWAY inks\["#ff000080"\]: .*not opaque/,
    );
    expect(() => colourway("Dusk", { red: "transparent" })).toThrow(/^E_COLOURWAY/);
    expect(() => colourway("Dusk", { red: "none" })).toThrow(/^E_COLOUR inks\["red"\]/);
    expect(() => colourway("Dusk", { reed: "red" })).toThrow(/^E_COLOUR inks\["reed"\]/);
  });

  it("refuses names that no sheet could carry", () => {
    for (const name of ["", "  ", "a\nb", "a\u0000", "x".repeat(201), undefined as unknown as string]) {
      expect(() => colourway(name, {})).toThrow(/^E_COLOURWAY: a colourway has no usable name/);
    }
  });

  it("knows one name in two compositions of Unicode as one", () => {
    expect(colourway("Nachtschwa\u0308rmer", {}).name).toBe(colourway("Nachtschw\u00e4rmer", {}).name);
  });

  it("does not confuse names and inks with what objects inherit", () => {
    expect(colourway("__proto__", {}).name).toBe("__proto__");
    fc.assert(
      fc.property(fc.constantFrom("__proto__", "constructor", "toString"), (key) => {
        expect(() => colourway("Dusk", Object.fromEntries([[key, "red"]]))).toThrow(/^E_COLOUR/);
      }),
    );
  });
});
