import { describe, expect, it } from "vitest";
import { crop, photograph, plainGround, stripes, whiteNoise } from "../../tests/bench/seams/textures.js";
import type { PixelImage } from "../image/index.js";
import { checkSeams } from "./check-seams.js";

const WIDTHS = [30, 20, 15, 10];

const kinds = (image: PixelImage) => checkSeams(image).edges.map((edge) => edge.kind);

/** A line of one colour along the right edge. */
function withLine(image: PixelImage, ink: readonly number[]): PixelImage {
  const data = image.data.slice();
  for (let y = 0; y < image.height; y++) data.set(ink, y * image.stride + 3 * (image.width - 1));
  return { ...image, data };
}

describe("checkSeams on pictures without drawn motifs", () => {
  it("passes a plain ground and white noise", () => {
    expect(kinds(plainGround(120, 90))).toEqual([undefined, undefined]);
    expect(kinds(whiteNoise(120, 90, 3))).toEqual([undefined, undefined]);
  });

  it("passes whole stripes along and across the seam, and fine ones too", () => {
    for (const turned of [false, true]) {
      expect(kinds(stripes(150, 150, turned, WIDTHS))).toEqual([undefined, undefined]);
      expect(kinds(stripes(200, 200, turned, [1, 19]))).toEqual([undefined, undefined]);
    }
  });

  it("calls stripes that stop short of their repeat a wrong size", () => {
    expect(kinds(crop(stripes(300, 300, false, WIDTHS), 7, 0))).toEqual(["size", undefined]);
    expect(kinds(crop(stripes(300, 300, true, WIDTHS), 0, 7))).toEqual([undefined, "size"]);
  });

  it("calls a line along the edge of a plain ground a gap", () => {
    expect(kinds(withLine(plainGround(120, 90), [255, 255, 255]))).toEqual(["gap", undefined]);
  });

  it("passes a photograph that closes and refuses one that does not", () => {
    expect(kinds(photograph(128, 96, 1, true))).toEqual([undefined, undefined]);
    expect(kinds(photograph(128, 96, 1, false))).toEqual(["cut", "cut"]);
  });

  it("says so when a half-drop cell cannot be halved", () => {
    const [edge] = checkSeams(plainGround(120, 91), { layout: "half-drop" }).edges;
    expect(edge?.kind).toBe("size");
    expect(edge?.mend).toContain("multiple of 2 px");
  });
});
