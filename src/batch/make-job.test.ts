import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { makeJob } from "./make-job.js";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "repetend-make-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

describe("makeJob", () => {
  it("tells of tiles and of separations what is to be told of each, once", async () => {
    const fade =
      '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20"><linearGradient id="g">' +
      '<stop stop-color="#1b2a41"/><stop offset="1" stop-color="#c8553d"/></linearGradient><path d="M2 2H18V18H2Z" fill="url(#g)"/></svg>';
    writeFileSync(join(folder, "fade.svg"), fade);
    writeFileSync(
      join(folder, "ways.csv"),
      "ink,Day,Dusk\n#1b2a41,#1b2a41,#333333\n#c8553d,#c8553d,#999999\n",
    );
    const motifs = [{ file: "fade.svg", at: [20, 20] }];
    const print = { name: "Fade", layout: "straight", width: 40, height: 40, ground: "#f2ead8", motifs };
    const path = join(folder, "fade.job.json");
    const emit = { dpi: 50, formats: ["png"], edges: "hard", separations: {} };
    writeFileSync(path, JSON.stringify({ print, colourways: "ways.csv", emit }));
    const { notes } = await makeJob(path, { workers: 0 });
    const told = notes.filter(({ code }) => code === "N_NOT_FLAT").map(({ message }) => message);
    expect(told).toEqual([
      expect.stringContaining("hard-edged PNG is RGB"),
      expect.stringContaining("separations are tones"),
    ]);
  });
});
