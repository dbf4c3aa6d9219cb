import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { PixelImage } from "../../image/index.js";
import { parseTree } from "../../svg/index.js";
import type { SeamLayout, SeamReport, SeamRun } from "../types.js";
import { drawSeams, pictureSeams } from "./draw-seams.js";
import { markRolled, rollPicture, rollTile } from "./rolled-tile.js";

/** Every pixel tells its own place in the tile. */
const chart = (width: number, height: number): PixelImage => {
  const data = new Uint8Array(width * height * 3);
  for (let y = 0; y < height; y++) for (let x = 0; x < width; x++) data.set([x, y, 7], (y * width + x) * 3);
  return { width, height, channels: 3, data, stride: width * 3 };
};
const at = (image: PixelImage, x: number, y: number) => [
  ...image.data.subarray(y * image.stride + x * 3).subarray(0, 2),
];

const run = (from: number, to: number): SeamRun => ({
  kind: "cut",
  px: { from, to },
  mm: undefined,
  worst: 40,
});
const reportOf = (
  width: number,
  height: number,
  right: readonly SeamRun[],
  bottom: readonly SeamRun[],
): SeamReport => {
  const edge = (name: "left-right" | "top-bottom", runs: readonly SeamRun[]) => ({
    edge: name,
    ok: runs.length === 0,
    kind: runs[0]?.kind,
    worst: 40,
    shift: undefined,
    runs,
    share: 0,
    mend: undefined,
  });
  const edges = [edge("left-right", right), edge("top-bottom", bottom)];
  return {
    kind: "seam-report",
    ok: right.length + bottom.length === 0,
    width,
    height,
    dpi: undefined,
    edges,
  };
};

const layouts: readonly SeamLayout[] = [
  "straight",
  "half-drop",
  "brick",
  { kind: "stepped", along: "column", step: "1/4" },
];

describe("the rolled tile", () => {
  it("shows what the cloth shows: next to the seam stand the pixels that meet there", () => {
    const image = chart(40, 24);
    const half = rollPicture(image, "half-drop");
    // The seam lies between columns 19 and 20; the right-hand tile is lowered by 12.
    expect([at(half, 19, 0), at(half, 20, 0)]).toEqual([
      [39, 12],
      [0, 0],
    ]);
    const brick = rollPicture(image, "brick");
    // The seam lies between rows 11 and 12; the lower row is moved along by 20.
    expect([at(brick, 0, 11), at(brick, 0, 12)]).toEqual([
      [20, 23],
      [0, 0],
    ]);
    expect(at(rollPicture(image, "border"), 0, 0)).toEqual([20, 0]);
  });

  it("holds every pixel of the tile once in a straight repeat", () => {
    const image = chart(13, 9);
    const rolled = rollPicture(image, "straight");
    const places = (one: PixelImage) =>
      Array.from({ length: 13 * 9 }, (_, k) => at(one, k % 13, Math.floor(k / 13)).join()).sort();
    expect(places(rolled)).toEqual(places(image));
  });

  it("puts a mark where the pixels of its stretch are (independent route over the chart)", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...layouts),
        fc.nat(23),
        fc.integer({ min: 1, max: 24 }),
        (layout, from, long) => {
          const to = Math.min(24, from + long);
          const report = reportOf(40, 24, [run(from, to)], []);
          const rolled = rollPicture(chart(40, 24), layout);
          const marks = markRolled(report, rollTile(40, 24, layout)).filter(
            (mark) => mark.run && mark.edge === "left-right",
          );
          const marked = new Set<number>();
          for (const { box } of marks) {
            const before = (box.x - 1 + 40) % 40;
            for (let y = Math.max(0, box.y); y < Math.min(24, box.y + box.height); y++) {
              marked.add(at(rolled, before, y)[1] ?? -1);
            }
          }
          expect([...marked].sort((a, b) => a - b)).toEqual(
            Array.from({ length: to - from }, (_, k) => from + k),
          );
        },
      ),
    );
  });
});

describe("the drawn report", () => {
  it("is well-formed, says the fault, and marks nothing on a closed tile", () => {
    const open = drawSeams(reportOf(400, 240, [run(10, 60)], []), { href: "tile.png" });
    expect(parseTree(open).name).toBe("svg");
    expect(open).toContain("a motif is cut from 10 to 60 px, up to 40");
    expect(open.match(/<rect/g)?.length).toBe(2);
    expect(drawSeams(reportOf(400, 240, [], [])).match(/<rect/g)).toBeNull();
  });

  it("frames open stretches in the picture, and refuses the report of another", () => {
    const image = chart(40, 24);
    const red = (one: PixelImage) => {
      let count = 0;
      for (let k = 0; k < one.data.length; k += 4)
        if (one.data[k] === 0xe5 && one.data[k + 1] === 0x26) count++;
      return count;
    };
    expect(red(pictureSeams(image, reportOf(40, 24, [], [])))).toBe(0);
    expect(red(pictureSeams(image, reportOf(40, 24, [run(2, 8)], [])))).toBeGreaterThan(20);
    expect(() => pictureSeams(image, reportOf(41, 24, [], []))).toThrow(/E_IMAGE/);
  });
});
