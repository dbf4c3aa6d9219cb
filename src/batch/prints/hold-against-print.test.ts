import { describe, expect, it } from "vitest";
import type { PixelImage } from "../../image/index.js";
import { motif } from "../../motif/index.js";
import { rasterisePrint } from "../../raster/index.js";
import { border, brick, halfDrop, type Print, pixelGrid, place, straight } from "../../repeat/index.js";
import type { EdgePair, SeamReport } from "../../seam/index.js";
import { holdAgainstPrint } from "./hold-against-print.js";

const leaf = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="30mm" viewBox="0 0 20 30">' +
    '<path d="M10 1C19 8 19 20 12 29C3 22 1 10 10 1Z" fill="#3c6e5a"/><path d="M4 6L16 25" stroke="#f3ead7"/></svg>',
  { name: "leaf" },
);
const motifs = [place(leaf, { at: [0, 12], width: 22, turn: 70 }), place(leaf, { at: [25, 40], width: 19 })];
const cell = { name: "Leaves", width: 50, height: 40, ground: "#1b2a41", motifs };
const prints: readonly (readonly [string, Print])[] = [
  ["straight", straight(cell)],
  ["half-drop", halfDrop(cell)],
  ["brick", brick(cell)],
  [
    "border",
    border({ name: "Hem", repeat: 50, width: 60, bands: [{ name: "all", from: 0, to: 60, motifs }] }),
  ],
];

/** A report that calls all of both seams cut. */
function allOpen({ width, height }: PixelImage, pairs: readonly EdgePair[]): SeamReport {
  const edges = pairs.map((edge) => ({
    edge,
    ok: false,
    kind: "cut" as const,
    worst: 30,
    shift: undefined,
    runs: [
      {
        kind: "cut" as const,
        px: { from: 0, to: edge === "left-right" ? height : width },
        mm: undefined,
        worst: 30,
      },
    ],
    share: 1,
    mend: "draw it again",
  }));
  return { kind: "seam-report", ok: false, width, height, dpi: undefined, edges };
}

describe("holdAgainstPrint", () => {
  it.each(prints)("takes nothing of a %s print for open that the field shows, too", async (name, print) => {
    const grid = pixelGrid(print, { dpi: 60 });
    const image = await rasterisePrint(print, { dpi: 60 });
    const pairs: EdgePair[] = name === "border" ? ["left-right"] : ["left-right", "top-bottom"];
    const held = await holdAgainstPrint(allOpen(image, pairs), image, print, grid, {});
    expect(held.ok).toBe(true);
    expect(held.edges.map(({ ok, runs, share }) => [ok, runs.length, share])).toEqual(
      pairs.map(() => [true, 0, 0]),
    );
  });

  it.each(prints)("leaves a fault of a %s tile what it is", async (_, print) => {
    const grid = pixelGrid(print, { dpi: 60 });
    const image = await rasterisePrint(print, { dpi: 60 });
    // The left 20 columns moved down by two pixels.
    const moved = { ...image, data: image.data.slice() };
    for (let y = 0; y < image.height; y++) {
      const from = ((y + image.height - 2) % image.height) * image.stride;
      moved.data.set(image.data.subarray(from, from + 80), y * image.stride);
    }
    const held = await holdAgainstPrint(allOpen(moved, ["left-right"]), moved, print, grid, {});
    expect([held.ok, held.edges[0]?.kind, held.edges[0]?.runs.length]).toEqual([false, "cut", 1]);
  });
});
