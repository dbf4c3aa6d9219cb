import { expect, it } from "vitest";
import type { PixelImage, Rasterise } from "../image/index.js";
import { straight, tile } from "../repeat/index.js";
import { checkLining, checkSeams } from "./index.js";

const print = straight({ name: "Plain", width: 40, height: 40, ground: "#f2ead8", motifs: [] });

const ofSize = (width: number, height: number): PixelImage => ({
  ...{ width, height, channels: 1, stride: width },
  data: new Uint8Array(width * height).fill(200),
});

it("holds a renderer that is handed in to the size that it was asked for", async () => {
  const twice: Rasterise = (_, { width, height }) => ofSize(2 * width, 2 * height);
  for (const work of [
    checkSeams(tile(print), { rasterise: twice, dpi: 25.4 }),
    checkLining(print, { rasterise: twice }),
  ]) {
    await expect(work).rejects.toThrow(/^E_RENDER rasterise\(\): the renderer gave back another size/);
  }
  const exact: Rasterise = (_, { width, height }) => ofSize(width, height);
  expect((await checkSeams(tile(print), { rasterise: exact, dpi: 25.4 })).ok).toBe(true);
});

it("refuses what is no picture", async () => {
  const nothing = (async () => ({})) as unknown as Rasterise;
  await expect(checkSeams(tile(print), { rasterise: nothing })).rejects.toThrow(/^E_IMAGE rasterise\(\)/);
});
