import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { motif } from "../../motif/index.js";
import { place, straight } from "../../repeat/index.js";
import { estimateTile, writeTile } from "./emit-tile.js";
import { planTile } from "./plan.js";

let dir = "";
beforeAll(() => {
  dir = mkdtempSync(join(tmpdir(), "repetend-estimate-"));
});
afterAll(() => rmSync(dir, { recursive: true }));

const drawn = (fill: string) =>
  motif(
    '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">' +
      '<linearGradient id="a"><stop stop-color="#3c6e5a"/><stop offset="1" stop-color="#c8553d"/></linearGradient>' +
      `<circle cx="10" cy="10" r="9" fill="${fill}"/></svg>`,
    { name: "seed" },
  );

describe("what a tile takes", () => {
  it.each([
    ["soft", "#3c6e5a"],
    ["hard", "#3c6e5a"],
    // No palette holds its shades, so that it is written another way than was tried first.
    ["hard", "url(#a)"],
  ] as const)("is told about right, %s edges in %s", async (edges, fill) => {
    const motifs = [place(drawn(fill), { at: [15, 15] })];
    const print = straight({ name: "Seeds", width: 30, height: 30, ground: "#f2ead8", motifs });
    const options = { dpi: 150, edges, formats: ["png", "tiff"] } as const;
    const plan = planTile(print, options);
    const { bytes, seconds } = await estimateTile(plan, options, 2);
    const { files } = await writeTile(plan, { ...options, dir });
    const written = files.reduce((sum, file) => sum + file.bytes, 0);
    expect(seconds).toBeGreaterThan(0);
    expect(bytes).toBeGreaterThan(written / 2);
    expect(bytes).toBeLessThan(written * 2);
  });
});
