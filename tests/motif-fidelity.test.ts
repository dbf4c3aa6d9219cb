import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { motif } from "../src/motif/index.js";
import { DRAWN_ALIKE, DRAWN_PLAINLY, drawingOf } from "./motif-features.fixture.js";
import { difference, documentOf, NOISE, paintedPixels, renderText } from "./motif-pixels.fixture.js";

function expectAlike(svg: string, reference: string, filters: boolean): void {
  const expected = renderText(reference);
  const found = renderText(documentOf(motif(svg, { filters })));
  expect(paintedPixels(expected)).toBeGreaterThan(100);
  const { share, mean } = difference(found, expected);
  expect(share).toBeLessThanOrEqual(NOISE.share);
  expect(mean).toBeLessThanOrEqual(NOISE.mean);
}

describe("a motif looks like its drawing:", () => {
  it.each(DRAWN_ALIKE.map((one) => [one.name, one] as const))("%s", (_, { inner, root, filters }) => {
    const svg = drawingOf(inner, root);
    expectAlike(svg, svg, filters ?? false);
  });
});

describe("a motif looks like the same picture written plainly:", () => {
  it.each(DRAWN_PLAINLY.map((one) => [one.name, one] as const))("%s", (_, { inner, root, plain }) => {
    expectAlike(drawingOf(inner, root), drawingOf(plain, root), false);
  });
});

describe("open drawings (openmoji 17, CC BY-SA 4.0)", () => {
  const folder = fileURLToPath(new URL("../node_modules/openmoji/color/svg/", import.meta.url));
  const files = readdirSync(folder).sort();
  const spread = files.filter((_, index) => index % 75 === 0);

  it("give motifs that look like them", () => {
    expect(spread.length).toBeGreaterThanOrEqual(59);
    const apart = spread.filter((file) => {
      const svg = readFileSync(folder + file, "utf8");
      const { share, mean } = difference(renderText(documentOf(motif(svg, { name: file }))), renderText(svg));
      return share > NOISE.share || mean > NOISE.mean;
    });
    expect(apart).toEqual([]);
  });

  it("do not look like one another (the test above can fail)", () => {
    const [one = "", other = ""] = spread.slice(20).map((file) => readFileSync(folder + file, "utf8"));
    expect(difference(renderText(documentOf(motif(one))), renderText(other)).share).toBeGreaterThan(0.05);
  });
});
