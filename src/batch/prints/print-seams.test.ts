import { describe, expect, it } from "vitest";
import { motif } from "../../motif/index.js";
import { place, straight } from "../../repeat/index.js";
import { checkPrintPicture } from "./print-seams.js";

const reed = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 40" width="40mm"><path d="M5 0H20L35 40H10Z" fill="#5a8b80"/></svg>',
);
const print = straight({
  name: "Reeds",
  width: 40,
  height: 60,
  ground: "#efe6d5",
  motifs: [place(reed, { at: [38, 10] })],
});

describe("checkPrintPicture", () => {
  it("looks at a tile of a few pixels in a resolution that shows its seams", async () => {
    for (const dpi of [1e-9, 0.5, 10]) {
      const { image, report } = await checkPrintPicture(print, { dpi });
      expect([image.width, image.height]).toEqual([64, 96]);
      expect(report.ok).toBe(true);
    }
  });

  it("looks at others as they are asked for, up to about two million pixels", async () => {
    const at = async (dpi: number) => (await checkPrintPicture(print, { dpi })).image;
    expect(await at(254)).toMatchObject({ width: 400, height: 600 });
    const { width, height } = await at(2540);
    expect(width * height).toBeGreaterThan(2e6);
    expect(width * height).toBeLessThan(2.2e6);
  });
});
