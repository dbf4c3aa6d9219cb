import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { PixelImage } from "../image/index.js";
import { motif } from "../motif/index.js";
import { rasterise, rasterisePrint } from "../raster/index.js";
import { border, field, halfDrop, place, straight, tile } from "../repeat/index.js";
import { latticeVectors, prints, repetendMatchers } from "./index.js";

expect.extend(repetendMatchers);

const crab = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">' +
    '<path d="M2 8H18V12L14 18H6L2 12Z" fill="#c8553d"/><circle cx="7" cy="6" r="2" fill="#1b2a41"/></svg>',
  { name: "crab" },
);
const crabs = halfDrop({
  name: "Crabs",
  width: 40,
  height: 40,
  ground: "#f2ead8",
  motifs: [place(crab, { at: [2, 10], turn: 15 }), place(crab, { at: [22, 30], width: 15 })],
});

/** Pixels of two inks: a square of `side` px every `every` px along x. */
function squares({
  width = 64,
  every = 16,
  side = 6,
  broken,
}: {
  width?: number;
  every?: number;
  side?: number;
  broken?: number;
}): PixelImage {
  const height = 16;
  const data = new Uint8Array(width * height * 4);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const isInside = x % every < side && y >= 4 && y < 4 + side && Math.floor(x / every) !== broken;
      data.set(isInside ? [200, 85, 61, 255] : [242, 234, 216, 255], (y * width + x) * 4);
    }
  return { width, height, channels: 4, data, stride: width * 4 };
}

/** Why an expectation failed. */
async function complaint(expectation: () => unknown): Promise<string> {
  try {
    await expectation();
  } catch (error) {
    return (error as Error).message;
  }
  throw new Error("the expectation did not fail");
}

describe("toCloseSeams", () => {
  it("passes pictures, prints, tiles and drawings that close", async () => {
    const image = await rasterisePrint(crabs, { dpi: 100 });
    expect(image).toCloseSeams();
    await expect(crabs).toCloseSeams({ rasterise });
    await expect(tile(crabs)).toCloseSeams({ rasterise, dpi: 100 });
    await expect(tile(crabs, { extent: "cell" })).toCloseSeams({ rasterise });
    await expect(tile(crabs).svg).toCloseSeams({ rasterise });
  });

  it("says which edge is open, how, and what to mend", async () => {
    const cell = await rasterise(field(crabs, { width: 40, height: 40 }), { width: 160, height: 160 });
    expect(cell).not.toCloseSeams();
    expect(cell).toCloseSeams({ layout: "half-drop" });
    const said = await complaint(() => expect(cell).toCloseSeams());
    expect(said).toMatch(/^expected the seams of the tile \(160 x 160 px\) to close\nLeft and right edge: /);
    expect(said).toMatch(/from \d+ to \d+ px/);
    expect(said).toContain("Top and bottom edge: closed.");
    expect(await complaint(() => expect(cell).not.toCloseSeams({ layout: "half-drop" }))).toMatch(
      /^expected the seams of the tile \(160 x 160 px\) not to close, but they do/,
    );
  });

  it("holds for any print that is drawn here", async () => {
    await fc.assert(
      fc.asyncProperty(prints({ largest: 30 }), async (print) => {
        await expect(print).toCloseSeams({ rasterise, dpi: 100 });
      }),
      { numRuns: 10, seed: 1 },
    );
  });
});

describe("toRepeatEvery", () => {
  it("compares a picture with itself, one vector on, in either direction", () => {
    for (const x of [16, -16, 32]) expect(squares({})).toRepeatEvery({ x });
    expect(squares({})).not.toRepeatEvery({ x: 8 });
    expect(squares({})).not.toRepeatEvery({ x: 16, y: 1 });
    expect(squares({ broken: 3 })).not.toRepeatEvery({ x: 16 });
  });

  it("says where a picture first breaks, in reading order, and by how much", async () => {
    expect(await complaint(() => expect(squares({ broken: 2 })).toRepeatEvery({ x: 16 }))).toBe(
      "expected the picture to repeat every 16 px along and 0 px down\n" +
        "  first at pixel 16, 4: #c8553d there, #f2ead8 one repeat on\n" +
        "  72 of 768 pixels differ (9.375 %), by up to 155 of 255 levels",
    );
    expect(await complaint(() => expect(squares({ broken: 0 })).toRepeatEvery({ x: -16 }))).toContain(
      "first at pixel 16, 4: #c8553d there, #f2ead8 one repeat on",
    );
    expect(await complaint(() => expect(squares({})).not.toRepeatEvery({ x: 16 }))).toBe(
      "expected the picture not to repeat every 16 px along and 0 px down, but it does",
    );
  });

  it("allows levels and a share of pixels, both inclusive", () => {
    const broken = squares({ broken: 2 });
    expect(broken).toRepeatEvery({ x: 16 }, { tolerance: 155 });
    expect(broken).not.toRepeatEvery({ x: 16 }, { tolerance: 154 });
    expect(broken).toRepeatEvery({ x: 16 }, { share: 72 / 768 });
    expect(broken).not.toRepeatEvery({ x: 16 }, { share: 71 / 768 });
  });

  it("takes no notice of the colour of bare cloth", () => {
    const data = new Uint8Array([9, 9, 9, 0, 200, 0, 0, 0, 1, 2, 3, 0]);
    expect({ width: 3, height: 1, channels: 4, data, stride: 12 } as PixelImage).toRepeatEvery({ x: 1 });
  });

  it("compares windows of a cloth that is a function", async () => {
    const show = (window: Parameters<typeof field>[1]) => field(crabs, window);
    await expect(show).toRepeatEvery({ x: 40, y: 20 });
    await expect(show).toRepeatEvery(
      { y: -40 },
      { rasterise, window: { x: -15, y: 7, width: 30, height: 30 } },
    );
    await expect(show).not.toRepeatEvery({ x: 40 });
    await expect(show).not.toRepeatEvery({ x: 40 }, { rasterise });
    const said = await complaint(() => expect(show).toRepeatEvery({ x: 40 }, { rasterise }));
    expect(said).toMatch(
      /^expected the cloth to repeat every 40 mm along and 0 mm down\n {2}first at [\d.]+, [\d.]+ mm of the cloth \(pixel/,
    );
    expect(await complaint(() => expect(show).toRepeatEvery({ x: 40 }))).toContain(
      "the texts first differ at character",
    );
  });

  it("takes a text that goes on for another text", async () => {
    await expect((window: { x: number }) => "a".repeat(3 + window.x)).not.toRepeatEvery({ x: 1 });
  });

  it("holds for any print that is drawn here, along any of its vectors", async () => {
    await fc.assert(
      fc.asyncProperty(
        prints({ largest: 30 }).chain((print) => latticeVectors(print).map((vector) => ({ print, vector }))),
        async ({ print, vector }) => {
          const window = { x: -10, y: 0, width: 40, height: 40 };
          await expect((one: typeof window) => field(print, one)).toRepeatEvery(vector, {
            rasterise,
            window,
            tolerance: 2,
            share: 1e-2,
          });
        },
      ),
      { numRuns: 20 },
    );
  });
});

describe("toHaveInks", () => {
  it("knows the inks of prints, motifs and flat pictures, however they are spelt", async () => {
    expect(crabs).toHaveInks(["#F2EAD8", "#c8553d", "rgb(27 42 65)"]);
    expect(crab).toHaveInks(["#1b2a41", "#c8553d"]);
    expect(squares({})).toHaveInks(["#c8553d", "#f2ead8"]);
    expect(await rasterisePrint(crabs, { dpi: 80, edges: "hard" })).toHaveInks([
      "#f2ead8",
      "#c8553d",
      "#1b2a41",
    ]);
    expect(crab).not.toHaveInks(["#c8553d"]);
    expect(crab).not.toHaveInks(["#1b2a41", "#c8553d", "#ffffff"]);
    const hem = border({ name: "Hem", repeat: 10, width: 10, bands: [] });
    expect(hem).toHaveInks([]);
  });

  it("says what is missing, what is surplus, and which surplus ink is near", async () => {
    expect(await complaint(() => expect(crab).toHaveInks(["#1b2a42", "#c8553d"]))).toMatch(
      /^expected the motif "crab" to have 2 inks: #1b2a42, #c8553d\n {2}missing: #1b2a42; nearest surplus is #1b2a41, 0\.\d+ away \(CIEDE2000\)\n {2}surplus: #1b2a41$/,
    );
    expect(await complaint(() => expect(crab).toHaveInks(["#c8553d"]))).toBe(
      'expected the motif "crab" to have 1 ink: #c8553d\n  surplus: #1b2a41',
    );
    expect(await complaint(() => expect(crab).not.toHaveInks(["#1b2a41", "#c8553d"]))).toBe(
      'expected the motif "crab" not to have exactly 2 inks: #1b2a41, #c8553d',
    );
  });

  it("tells a picture with soft edges, and leaves out bare cloth", async () => {
    const soft = await rasterisePrint(crabs, { dpi: 80 });
    expect(await complaint(() => expect(soft).toHaveInks(["#f2ead8"]))).toMatch(/and \d+ more\n.*soft edges/);
    const bare = straight({ name: "Bare", width: 40, height: 40, motifs: crabs.motifs });
    expect(await rasterisePrint(bare, { dpi: 80, edges: "hard" })).toHaveInks(["#c8553d", "#1b2a41"]);
  });
});

describe("what a matcher cannot judge", () => {
  it("is refused, with .not too", async () => {
    const wrong = { layers: 3 };
    for (const expectation of [
      () => expect(wrong).toHaveInks([]),
      () => expect(wrong).not.toHaveInks([]),
      () => expect(wrong).not.toCloseSeams(),
      () => expect(tile(crabs)).not.toCloseSeams(),
      () => expect(crabs).not.toRepeatEvery({ x: 1 }),
      () => expect(() => 3).not.toRepeatEvery({ x: 1 }),
    ]) {
      expect(await complaint(expectation)).toMatch(/^E_USAGE .*cannot judge this/);
    }
    for (const expectation of [
      () => expect(squares({})).not.toRepeatEvery({}),
      () => expect(squares({})).not.toRepeatEvery({ x: 64 }),
      () => expect(squares({})).not.toRepeatEvery({ x: 1.5 }),
      () => expect(squares({})).not.toRepeatEvery({ x: 1 }, { share: 2 }),
    ]) {
      expect(await complaint(expectation)).toMatch(/^E_NUMBER/);
    }
    expect(await complaint(() => expect(crab).not.toHaveInks(["reddish"]))).toMatch(/^E_COLOUR/);
  });
});
