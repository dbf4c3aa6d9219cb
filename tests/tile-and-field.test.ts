import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Box } from "../src/geometry/index.js";
import type { PixelImage } from "../src/image/index.js";
import { cropImage, rasterisePrint, renderNative } from "../src/raster/index.js";
import { type Print, pixelGrid, pixelPrint, writePixels } from "../src/repeat/index.js";
import { latticeVector, prints } from "../src/testing/index.js";

/** What a picture repeated endlessly shows at a pixel; a border stands once across the cloth. */
const sample = (image: PixelImage, x: number, y: number, channel: number): number => {
  const column = ((x % image.width) + image.width) % image.width;
  const row = ((y % image.height) + image.height) % image.height;
  return image.data[row * image.stride + column * 4 + channel] ?? 0;
};

/** Shares of samples that differ by more than some levels. */
function compare(field: PixelImage, tile: PixelImage, at: { x: number; y: number }) {
  let [any, more, samples] = [0, 0, 0];
  for (let y = 0; y < field.height; y++) {
    for (let x = 0; x < field.width; x++) {
      for (let channel = 0; channel < 4; channel++) {
        const far = Math.abs(
          (field.data[y * field.stride + x * 4 + channel] ?? 0) - sample(tile, x + at.x, y + at.y, channel),
        );
        samples++;
        if (far > 0) any++;
        if (far > 2) more++;
      }
    }
  }
  return { any: any / samples, more: more / samples, samples };
}

/** On a ground: where an edge fades into bare cloth, the colour of what is hardly there is not known. */
const solidPrints = prints({ grounds: ["#f2ead8", "#d7e3e0"] });

const dpis = fc.integer({ min: 40, max: 130 });
const shifts = fc.record({ x: fc.integer({ min: -90, max: 90 }), y: fc.integer({ min: -90, max: 90 }) });

/** A window somewhere on the cloth, two tiles wide; for a border from selvedge to selvedge. */
function windowOf(print: Print, dpi: number, shift: { x: number; y: number }) {
  const { tile } = pixelGrid(print, { dpi });
  const width = Math.min(2 * tile.width, 500);
  return print.kind === "border"
    ? { x: shift.x, y: 0, width, height: tile.height }
    : { x: shift.x, y: shift.y, width, height: Math.min(2 * tile.height, 500) };
}

/** The window rendered by itself, wherever it lies: a second route, which knows nothing of tiles. */
async function renderDirectly(
  print: Print,
  dpi: number,
  window: Box,
  edges: "soft" | "hard",
): Promise<PixelImage> {
  const onGrid = pixelPrint(print, pixelGrid(print, { dpi }));
  const svg = writePixels(onGrid, window, { edges, overscan: 64 });
  const rendered = await renderNative(svg, { width: window.width + 128, height: window.height + 128 });
  return cropImage(rendered, { x: 64, y: 64, width: window.width, height: window.height });
}

describe("the tile in pixels", () => {
  it("laid edge to edge is the field, to the last bit", async () => {
    await fc.assert(
      fc.asyncProperty(
        prints(),
        dpis,
        shifts,
        fc.constantFrom("soft", "hard"),
        async (print, dpi, shift, edges) => {
          const window = windowOf(print, dpi, shift);
          const [tile, field] = [
            await rasterisePrint(print, { dpi, edges }),
            await rasterisePrint(print, { dpi, edges, window }),
          ];
          expect(compare(field, tile, window).any).toBe(0);
        },
      ),
      { numRuns: 20 },
    );
  });

  // A renderer computes in single precision and rounds points to 1/64 of a pixel: the same shape a tile further on may
  // come out 1/64 px off here and there. Without anti-aliasing that turns over a sample in some ten thousand; with it,
  // it is the noise of the overscan (1 sample in 10,000 by more than 2 levels). Most of it comes from a few prints of large
  // curves, so that the mean over 40 prints wavers from 0.2 to 4 in 10,000: it is a figure of these 40.
  it.each([
    ["hard", 5e-4],
    ["soft", 3e-4],
  ] as const)(
    "laid edge to edge is the field rendered directly, with %s edges, but for the renderer's noise",
    async (edges, most) => {
      let [apart, samples] = [0, 0];
      await fc.assert(
        fc.asyncProperty(solidPrints, dpis, shifts, async (print, dpi, shift) => {
          const window = windowOf(print, dpi, shift);
          const tile = await rasterisePrint(print, { dpi, edges });
          const result = compare(await renderDirectly(print, dpi, window, edges), tile, window);
          apart += result.more * result.samples;
          samples += result.samples;
          expect(result.more).toBeLessThan(1e-2);
        }),
        { numRuns: 40, seed: 2 },
      );
      expect(apart / samples).toBeLessThan(most);
    },
  );

  it("is the same one lattice vector on, where the vector is whole pixels", async () => {
    await fc.assert(
      fc.asyncProperty(
        solidPrints.filter((print) => print.kind === "border" || print.layout.kind !== "satin"),
        dpis,
        fc.integer({ min: -3, max: 3 }),
        fc.integer({ min: -3, max: 3 }),
        async (print, dpi, i, j) => {
          const { cell } = pixelGrid(print, { dpi });
          const inPixels: Print =
            print.kind === "border"
              ? { ...print, repeat: cell.width, width: cell.height }
              : { ...print, width: cell.width, height: cell.height };
          const vector = latticeVector(inPixels, i, j);
          const size = {
            width: Math.min(cell.width, 300),
            height: print.kind === "border" ? cell.height : 200,
          };
          const here = await renderDirectly(print, dpi, { x: 0, y: 0, ...size }, "hard");
          const there = await renderDirectly(print, dpi, { ...vector, ...size }, "hard");
          expect(compare(there, here, { x: 0, y: 0 }).any).toBeLessThan(1e-2);
        },
      ),
      { numRuns: 30 },
    );
  });
});
