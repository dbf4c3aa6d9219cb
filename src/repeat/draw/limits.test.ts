import { describe, expect, it } from "vitest";
import { type ErrorCode, RepetendError } from "../../errors.js";
import { motif } from "../../motif/index.js";
import { straight } from "../build/all-over.js";
import { border } from "../build/border.js";
import { place } from "../build/place.js";
import { field } from "./field.js";
import { tile } from "./tile.js";

const dot = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="4mm" height="4mm" viewBox="0 0 4 4"><path d="M1 1H3V3Z"/></svg>',
  { name: "dot" },
);
const spots = (width: number, at: number = 0) =>
  straight({ name: "Spots", width: 1, height: 1, motifs: [place(dot, { at: [at, 0], width })] });

const refusal = (work: () => unknown): ErrorCode | undefined => {
  const start = performance.now();
  try {
    work();
    return undefined;
  } catch (error) {
    expect(performance.now() - start).toBeLessThan(1_000);
    if (error instanceof RepetendError) return error.code;
    throw error;
  }
};

describe("prints that no machine could list", () => {
  it("are refused before the work: a motif over a hundred million cells, a window of as many", () => {
    expect(refusal(() => tile(spots(10_000)))).toBe("E_INSTANCES");
    expect(refusal(() => field(spots(0.5), { width: "10m", height: "10m" }))).toBe("E_INSTANCES");
    expect(refusal(() => field(spots(0.5), { width: 100, height: 100 }))).toBeUndefined();
  });

  it("are refused at 500,000 copies and a few, not below", () => {
    // The motif's frame is a cell wide, what it paints half of that.
    const copies = (width: number) => refusal(() => field(spots(1), { width, height: 698.5 }));
    expect(copies(700)).toBeUndefined();
    expect(copies(720)).toBe("E_INSTANCES");
  });

  it("are refused as borders: a period of less than a ten thousandth part", () => {
    const hem = (period: number) =>
      border({ name: "Hem", repeat: 100, width: 100, bands: [{ name: "a", from: 0, to: 10, period }] });
    expect(hem(0.01).bands[0]?.count).toBe(10_000);
    expect(refusal(() => hem(0.0099))).toBe("E_BAND");
    expect(refusal(() => hem(1e-300))).toBe("E_BAND");
  });

  it("are refused as windows: less than a hundred-thousandth of a mm, or farther off than numbers tell", () => {
    const window = (x: number, width: number) => refusal(() => field(spots(0.5), { x, width, height: 1 }));
    expect(window(0, 0.00001)).toBeUndefined();
    expect(window(0, 0.000009)).toBe("E_SIZE");
    expect(window(-1e9, 1)).toBeUndefined();
    expect(window(1e9 + 1, 1)).toBe("E_NUMBER");
    expect(refusal(() => field(spots(0.5), { y: -1e17, width: 1, height: 1 }))).toBe("E_NUMBER");
  });

  it("are refused as placements: more than 1 km off or wide", () => {
    expect(refusal(() => spots(1, 1e6))).toBeUndefined();
    expect(refusal(() => spots(1, 1e6 + 1))).toBe("E_NUMBER");
    expect(refusal(() => spots(1, -1e300))).toBe("E_NUMBER");
    expect(refusal(() => spots(1e7))).toBe("E_NUMBER");
  });
});
