import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";
import { motif } from "../src/motif/index.js";
import { difference, documentOf, NOISE, renderText } from "./motif-pixels.fixture.js";

it("at least 999 of 1,000 open drawings (openmoji 17, CC BY-SA 4.0) give motifs that look like them", () => {
  const folder = fileURLToPath(new URL("../node_modules/openmoji/color/svg/", import.meta.url));
  const spread = readdirSync(folder)
    .sort()
    .filter((_, index) => index % 3 === 0);
  expect(spread.length).toBeGreaterThanOrEqual(1000);
  const apart = spread.filter((file) => {
    const svg = readFileSync(folder + file, "utf8");
    const { share, mean } = difference(renderText(documentOf(motif(svg, { name: file }))), renderText(svg));
    return share > NOISE.share || mean > NOISE.mean;
  });
  // Nothing to explain: every one of them is alike. A name that comes up here needs a reason beside it.
  expect(apart).toEqual([]);
});
