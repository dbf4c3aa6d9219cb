import { describe, expect, it } from "vitest";
import { findNearest } from "./did-you-mean.js";

describe("findNearest", () => {
  const known = ["name", "layout", "repeat", "width", "ground", "bands", "motifs"];

  it("finds the word behind a slip of one letter", () => {
    expect(findNearest("nmae", known)).toBe("name");
    expect(findNearest("Width", known)).toBe("width");
    expect(findNearest("motif", known)).toBe("motifs");
    expect(findNearest("groud", known)).toBe("ground");
    expect(findNearest("repaet", known)).toBe("repeat");
  });

  it("suggests nothing for a word that is far from all", () => {
    expect(findNearest("colour", known)).toBeUndefined();
    expect(findNearest("", known)).toBeUndefined();
    expect(findNearest("x".repeat(10_000), known)).toBeUndefined();
  });
});
