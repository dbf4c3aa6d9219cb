import { describe, expect, it } from "vitest";
import type { PixelImage } from "../image/index.js";
import { holdAgainstField } from "./hold-against-field.js";
import type { SeamReport } from "./types.js";

/** A tile of 40 px with a bar that is cut straight at its left edge. */
const bar = (from: number): PixelImage => {
  const data = new Uint8Array(1600).fill(220);
  for (let y = 10; y < 20; y++) for (let x = 0; x < 12; x++) data[y * 40 + ((from + x) % 40)] = 30;
  return { width: 40, height: 40, channels: 1, stride: 40, data };
};
const open: SeamReport = {
  ...{ kind: "seam-report", ok: false, width: 40, height: 40, dpi: undefined },
  edges: [
    {
      ...{
        edge: "left-right",
        ok: false,
        kind: "cut",
        worst: 50,
        shift: undefined,
        share: 0.25,
        mend: "Move it.",
      },
      runs: [{ kind: "cut", px: { from: 10, to: 20 }, mm: undefined, worst: 50 }],
    },
  ],
};

describe("holdAgainstField", () => {
  it("finds the seam wherever the window of the field lies, by whole tiles alike", () => {
    for (const x of [20, -20, 60, -60, 420]) {
      expect(holdAgainstField(open, bar(0), bar(20), { x, y: 0 }).ok).toBe(true);
      expect(holdAgainstField(open, bar(0), bar(15), { x, y: 0 }).ok).toBe(false);
      expect(holdAgainstField(open, bar(0), bar(20), { x, y: -40 }).ok).toBe(true);
    }
  });

  it("holds a stretch that goes on where the seam begins anew", () => {
    const turn = (image: PixelImage): PixelImage => {
      const data = Uint8Array.from(image.data, (_, k) => image.data[(k + 15 * 40) % 1600] ?? 0);
      return { ...image, data };
    };
    const report: SeamReport = {
      ...open,
      edges: open.edges.map((edge) => ({
        ...edge,
        runs: edge.runs.map((run) => ({ ...run, px: { from: 35, to: 45 } })),
      })),
    };
    expect(holdAgainstField(report, turn(bar(0)), turn(bar(20)), { x: 20, y: 0 }).ok).toBe(true);
    expect(holdAgainstField(report, turn(bar(0)), turn(bar(15)), { x: 20, y: 0 }).ok).toBe(false);
  });

  it("tells of what is left when the field explains a part", () => {
    const long = { kind: "colour", px: { from: 20, to: 40 }, mm: undefined, worst: 70 } as const;
    const [edge] = open.edges;
    const both: SeamReport = {
      ...open,
      edges:
        edge === undefined
          ? []
          : [{ ...edge, kind: "colour", worst: 70, share: 0.75, runs: [...edge.runs, long] }],
    };
    const held = holdAgainstField(both, bar(0), bar(15), { x: 20, y: 0 });
    expect(held.ok).toBe(false);
    expect(held.edges).toEqual([{ ...edge, mend: expect.stringContaining("A motif ends at the edge") }]);
  });

  it("takes grey pictures pixel by pixel", () => {
    const noise = (moved: number): PixelImage => {
      const level = (x: number, y: number) => (x * 97 + y * 61 + ((x * y) % 7) * 37) % 256;
      const data = Uint8Array.from({ length: 1600 }, (_, k) =>
        level(((k % 40) + moved) % 40, Math.floor(k / 40)),
      );
      return { ...bar(0), data };
    };
    expect(holdAgainstField(open, noise(0), noise(20), { x: 20, y: 0 }).ok).toBe(true);
  });

  it("refuses parts of a pixel", () => {
    expect(() => holdAgainstField(open, bar(0), bar(20), { x: 20.5, y: 0 })).toThrow(/E_NUMBER moved\.x/);
  });
});
