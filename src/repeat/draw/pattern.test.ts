import { describe, expect, it } from "vitest";
import { straight } from "../build/all-over.js";
import { field } from "./field.js";
import { patternPaint } from "./pattern.js";

const print = straight({ name: "Plain", width: 70, height: 90, ground: "#f2ead8", motifs: [] });

describe("a print as paint", () => {
  it("has the size of its repeat in the units asked for", () => {
    const paint = patternPaint(print, { id: "plain", unitsPerMm: 2.5 });
    expect(paint).toContain('id="plain" patternUnits="userSpaceOnUse" width="70" height="90"');
    expect(paint).toContain('patternTransform="scale(2.5)"');
  });

  it.each([0, -1, 1e-12, 1e13])("is refused at %d units a mm", (unitsPerMm) => {
    expect(() => patternPaint(print, { id: "plain", unitsPerMm })).toThrow(
      expect.objectContaining({ code: "E_NUMBER", where: "options.unitsPerMm" }),
    );
  });

  it.each(["", "a b", "a)", 'a"', "a#b"])(
    "is refused under the id %j, which no reference would find",
    (id) => {
      const refused = expect.objectContaining({ code: "E_ARGUMENT", where: "options.id" });
      expect(() => patternPaint(print, { id })).toThrow(refused);
      if (id !== "")
        expect(() => field(print, { width: 9, height: 9 }, { scope: id })).toThrow(/options\.scope/);
    },
  );

  it("takes ids in any script", () => {
    expect(patternPaint(print, { id: "blätter_2.a:b" })).toContain('id="blätter_2.a:b"');
  });
});
