import { describe, expect, it } from "vitest";
import { border } from "../repeat/index.js";
import { yardage } from "./cloth/yardage.js";
import { dress } from "./dress/dress.js";
import { page, TRUE_SIZE } from "./dress.fixture.js";

const stripe = (from: number, name: string) => ({ name, from, to: from + 5, ground: "#203040" });
const print = border({
  name: "Stripes",
  repeat: 20,
  width: 100,
  ground: "#ffffff",
  bands: [stripe(10, "stripe"), stripe(40, "hem"), stripe(90, "stripe")],
});
const sketch = page('<path id="p" d="M10 10H90V90H10Z" fill="#fff"/>');

describe("a band that is named", () => {
  it("is refused where several have its name, and it would depend on their order which is meant", () => {
    const ambiguous = {
      code: "E_BAND",
      problem: "several bands of the print have this name",
      value: "stripe",
    };
    const dressed = (band: string) => () =>
      dress(sketch, print, { scale: TRUE_SIZE, panels: [{ panel: "#p", band }] });
    const cut = (band: string) => () =>
      yardage({ print, pieces: [{ name: "front", width: 30, height: 20, band }] });
    for (const place of [dressed, cut]) {
      expect(place("stripe")).toThrow(expect.objectContaining(ambiguous));
      expect(place("stripes")).toThrow(expect.objectContaining({ accepted: "stripe, hem" }));
      expect(place("hem")).not.toThrow();
    }
  });
});
