import { describe, expect, it } from "vitest";
import type { Box } from "../geometry/index.js";
import type { PixelImage } from "../image/index.js";
import { motif } from "../motif/index.js";
import {
  border,
  brick,
  halfDrop,
  type Print,
  pixelGrid,
  pixelPrint,
  place,
  satin,
  stepped,
  straight,
  writePixels,
} from "../repeat/index.js";
import { cropImage, pasteImage, rasterisePrint, renderNative } from "./index.js";

const leaf = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="30mm" viewBox="0 0 20 30">' +
    '<path d="M10 1C19 8 19 20 12 29C3 22 1 10 10 1Z" fill="#3c6e5a"/>' +
    '<path d="M11 3L8 27" stroke="#f3ead7" stroke-width="1.3" fill="none"/><circle cx="3" cy="4" r="2.2" fill="#c8553d"/></svg>',
  { name: "leaf" },
);

/** Motifs that lie inside, over an edge, and over a corner. */
const motifs = [
  place(leaf, { at: [23, 31], width: 19, turn: 20 }),
  place(leaf, { at: [1, 17], width: 23, turn: 71, flip: "x" }),
  place(leaf, { at: [49, 39.5], width: 27, turn: 133 }),
];
const cell = { name: "Leaves", width: 50, height: 40, ground: "#1b2a41", motifs };

const prints: readonly (readonly [string, Print])[] = [
  ["straight", straight(cell)],
  ["half-drop", halfDrop(cell)],
  ["brick", brick(cell)],
  ["stepped 2/3", stepped({ ...cell, along: "column", step: "2/3" })],
  ["satin", satin({ ...cell, ends: 5, move: 2 })],
  [
    "border",
    border({
      name: "Hem",
      repeat: 50,
      width: 70,
      ground: "#f3ead7",
      bands: [
        { name: "leaves", from: 5, to: 50, motifs },
        { name: "hem", from: 45.3, to: 70, ground: "#1b2a41", period: "24mm", motifs },
      ],
    }),
  ],
];

/** The picture laid edge to edge. */
function layTiles(tile: PixelImage, across: number, down: number): PixelImage {
  const [width, height] = [tile.width * across, tile.height * down];
  const whole: PixelImage = {
    width,
    height,
    channels: 4,
    data: new Uint8Array(width * height * 4),
    stride: width * 4,
  };
  for (let row = 0; row < down; row++) {
    for (let column = 0; column < across; column++)
      pasteImage(tile, whole, column * tile.width, row * tile.height);
  }
  return whole;
}

/** A copy without space between its rows. */
function packed(image: PixelImage): PixelImage {
  const whole = { ...image, data: new Uint8Array(image.width * image.height * 4), stride: image.width * 4 };
  pasteImage(image, whole, 0, 0);
  return whole;
}

/** The share of samples that differ by more than so many levels. */
function shareApart(one: PixelImage, other: PixelImage, levels: number): number {
  expect([one.width, one.height]).toEqual([other.width, other.height]);
  [one, other] = [packed(one), packed(other)];
  let apart = 0;
  for (let k = 0; k < one.data.length; k++) {
    if (Math.abs((one.data[k] ?? 0) - (other.data[k] ?? 0)) > levels) apart++;
  }
  return apart / one.data.length;
}

/** The field drawn in one go, with so much around it that no shape is cut at the canvas edge. */
async function drawField(print: Print, window: Box, edges: "soft" | "hard"): Promise<PixelImage> {
  const margin = 256;
  const svg = writePixels(pixelPrint(print, pixelGrid(print, OPTIONS)), window, { edges, overscan: margin });
  const size = { width: window.width + 2 * margin, height: window.height + 2 * margin };
  return cropImage(await renderNative(svg, size), { ...window, x: margin, y: margin });
}

const OPTIONS = { dpi: 127.3 };

/**
 * Shapes that are cut at the edge of the canvas come out a little differently: with 128 pixels of overscan in fewer than
 * 1 sample in 10,000 of a large tile. These tiles are small and all edge, so the bound is ten times that.
 */
const NOISE = 1e-3;

describe.each(prints)("a %s print in pixels", (_, print) => {
  const down = print.kind === "border" ? 1 : 2;

  it.each(["soft", "hard"] as const)("is the field, its tile laid edge to edge: %s edges", async (edges) => {
    const tile = await rasterisePrint(print, { ...OPTIONS, edges });
    const window = { x: 0, y: 0, width: tile.width * 2, height: tile.height * down };
    expect(shareApart(layTiles(tile, 2, down), await drawField(print, window, edges), 2)).toBeLessThan(NOISE);
  });

  it("shows the same in any window", async () => {
    const tile = await rasterisePrint(print, OPTIONS);
    const field = layTiles(tile, 3, print.kind === "border" ? 1 : 3);
    const part = { x: tile.width - 13, y: 7, width: tile.width + 40, height: tile.height - 9 };
    const window = { ...part, x: part.x - 2 * tile.width };
    expect(
      shareApart(await rasterisePrint(print, { ...OPTIONS, window }), cropImage(field, part), 2),
    ).toBeLessThan(NOISE);
  });
});

describe("rasterisePrint", () => {
  it("leaves nothing unpainted under a ground, nor beyond a selvedge painted", async () => {
    const [, print] = prints[5] ?? [];
    if (print?.kind !== "border") throw new Error("the border stands last");
    const tile = await rasterisePrint(print, { dpi: 99.7 });
    const alphas = new Set(tile.data.filter((_, k) => k % 4 === 3));
    expect([...alphas]).toEqual([255]);
    const window = { x: 0, y: -30, width: tile.width, height: tile.height + 60 };
    const wide = await rasterisePrint(print, { dpi: 99.7, window });
    const rows = [0, 29, 30, tile.height + 29, tile.height + 30, tile.height + 59];
    expect(rows.map((y) => wide.data[y * wide.stride + 3])).toEqual([0, 0, 255, 255, 0, 0]);
  });

  it("refuses a window that is not whole pixels, and one too large for memory", async () => {
    const [, print = straight(cell)] = prints[0] ?? [];
    const size = { x: 0, y: 0, width: 10, height: 10 };
    await expect(rasterisePrint(print, { dpi: 100, window: { ...size, x: 0.5 } })).rejects.toThrow(/E_SIZE/);
    await expect(rasterisePrint(print, { dpi: 60_000 })).rejects.toThrow(/E_TOO_LARGE/);
  });

  it("stops when it is told to", async () => {
    const stop = AbortSignal.abort(new Error("enough"));
    await expect(rasterisePrint(straight(cell), { dpi: 100, signal: stop })).rejects.toThrow("enough");
  });
});
