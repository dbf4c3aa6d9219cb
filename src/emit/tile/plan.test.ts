import { describe, expect, it } from "vitest";
import { RepetendError } from "../../errors.js";
import { straight } from "../../repeat/index.js";
import { planTile, type TilePlanOptions } from "./plan.js";

const print = straight({ name: "Plain", width: 40, height: 40, ground: "#efe6d5", motifs: [] });

const refusal = (options: TilePlanOptions): string => {
  try {
    planTile(print, options);
  } catch (error) {
    if (error instanceof RepetendError) return error.code;
    throw error;
  }
  return "none";
};

describe("planTile", () => {
  it("refuses a repeat so small that no file can state its resolution", () => {
    // 40 mm in one pixel, at 100,000 dpi, are 0.000254 mm.
    expect(refusal({ dpi: 300, scale: 0.000254 / 40 })).toBe("none");
    expect(refusal({ dpi: 300, scale: 0.000253 / 40 })).toBe("E_SIZE");
    expect(refusal({ dpi: 300, scale: 1e-12 })).toBe("E_SIZE");
    expect(refusal({ dpi: 1e-9 })).toBe("none");
  });
});
