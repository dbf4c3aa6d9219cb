import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { emitTile } from "../src/emit/index.js";
import { countApart, readRgba, reed } from "../src/emit/saltmarsh.fixture.js";
import { cropImage, renderNative } from "../src/raster/index.js";
import {
  border,
  halfDrop,
  type Print,
  pixelGrid,
  pixelPrint,
  place,
  writePixels,
} from "../src/repeat/index.js";

let dir = "";
beforeAll(() => {
  dir = mkdtempSync(join(tmpdir(), "repetend-production-"));
});
afterAll(() => rmSync(dir, { recursive: true }));

const DPI = 300;
/** So much in pixels that no reed reaches beyond it: where a renderer cuts a shape, its edges come out otherwise. */
const AROUND = 640;

/** Reeds all over a field, in all directions, 11 to 31 mm wide. The larger the shapes, the more of them a band cuts. */
const strewn = (width: number, height: number) =>
  Array.from({ length: 60 }, (_, at) =>
    // Steps of the golden ratio and of the root of 2 come nowhere twice.
    place(reed, {
      at: [width * ((at * 0.618034) % 1), height * ((at * 0.414214) % 1)],
      width: 11 + ((at * 7.3) % 20),
      turn: at * 67,
    }),
  );

/** With the share of samples that may be more than 2 levels off with soft edges, and off at all with hard ones. */
const prints: readonly (readonly [string, Print, number])[] = [
  // Wide enough for bands in pieces, high enough for several: 4,724 x 1,890 px.
  [
    "border",
    border({
      name: "Hem",
      repeat: 400,
      width: 160,
      ground: "#1b2a41",
      bands: [{ name: "reeds", from: 0, to: 160, motifs: strewn(400, 160) }],
    }),
    1e-4,
  ],
  [
    "half-drop",
    halfDrop({ name: "Reeds", width: 120, height: 240, ground: "#1b2a41", motifs: strewn(120, 240) }),
    // Its second column is the first one moved, where a renderer rounds points to another 1/64 px.
    3e-4,
  ],
];

/** The tile rendered in one go, the canvas around it wide enough for the edge not to matter. */
async function renderOnce(print: Print, edges: "soft" | "hard") {
  const grid = pixelGrid(print, { dpi: DPI });
  const { width, height } = grid.tile;
  const svg = writePixels(
    pixelPrint(print, grid),
    { x: 0, y: 0, width, height },
    { edges, overscan: AROUND },
  );
  const around = await renderNative(svg, { width: width + 2 * AROUND, height: height + 2 * AROUND });
  return cropImage(around, { x: AROUND, y: AROUND, width, height });
}

describe("a file of many bands", () => {
  it.each(prints)("of a %s is what one rendering of the whole tile is", async (_, print, noise) => {
    for (const edges of ["soft", "hard"] as const) {
      const { files } = await emitTile(print, { dpi: DPI, dir, formats: ["png"], edges });
      const pixels = await readRgba(join(dir, files[0]?.path ?? ""));
      const once = await renderOnce(print, edges);
      const samples = 4 * once.width * once.height;
      expect(samples).toBeGreaterThan(1e7);
      const share = countApart(pixels, once, edges === "soft" ? 2 : 0) / samples;
      // What is left is the renderer's: it computes in single precision, and rounds points to 1/64 px.
      expect([edges, share < noise, share]).toEqual([edges, true, share]);
    }
  });
});
