import { describe, expect, it } from "vitest";
import type { PixelImage, Rasterise } from "../image/index.js";
import { stepped, straight, tile } from "../repeat/index.js";
import { checkSeams, describeSeams, type StatedRepeat } from "./index.js";

/** A tile of discs on a lattice, drawn by their distance: closes by construction. */
function discs(options: {
  width: number;
  height: number;
  step?: number;
  slip?: number;
  skip?: boolean;
}): PixelImage {
  const { width, height, step = 0, slip = 0, skip = false } = options;
  const data = new Uint8Array(width * height * 3);
  const places = [
    { x: 0, y: height * 0.3, r: 31 },
    { x: width * 0.02, y: height * 0.75, r: 25 },
    { x: width * 0.5, y: height * 0.5, r: 40 },
  ];
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      let nearest = Number.POSITIVE_INFINITY;
      for (const place of places)
        for (let column = -1; column <= 1; column++)
          for (let row = -2; row <= 2; row++) {
            if (skip && column === 1 && place.x === 0) continue;
            const dx = x + 0.5 - place.x - column * width;
            const dy = y + 0.5 - place.y - row * height - column * (step * height + slip);
            nearest = Math.min(nearest, Math.hypot(dx, dy) - place.r);
          }
      const share = Math.max(0, Math.min(1, 0.5 - nearest));
      const ring = Math.max(0, Math.min(1, 0.5 - (nearest + 5)));
      data.set(
        [240, 232, 216].map((ground, i) => {
          const line = ground + share * (([20, 30, 40][i] as number) - ground);
          return Math.round(line + ring * (([200, 90, 60][i] as number) - line));
        }),
        (y * width + x) * 3,
      );
    }
  return { width, height, channels: 3, data, stride: width * 3 };
}

/** Draws ground only. */
const plain: Rasterise = async (_, { width, height }) => ({
  ...{ width, height, channels: 1, stride: width },
  data: new Uint8Array(width * height).fill(200),
});

describe("checkSeams", () => {
  it("passes closed tiles of every layout", () => {
    expect(checkSeams(discs({ width: 240, height: 200 })).ok).toBe(true);
    expect(checkSeams(discs({ width: 240, height: 200, step: 0.5 }), { layout: "half-drop" }).ok).toBe(true);
    const layout = { kind: "stepped", along: "column", step: "1/4" } as const;
    expect(checkSeams(discs({ width: 240, height: 200, step: 0.25 }), { layout }).ok).toBe(true);
    expect(checkSeams(discs({ width: 240, height: 200 }), { layout: "border" }).edges).toHaveLength(1);
  });

  it("refuses a half-drop cell that is laid straight", () => {
    const report = checkSeams(discs({ width: 240, height: 200, step: 0.5 }));
    expect(report.edges.map((edge) => edge.ok)).toEqual([false, true]);
  });

  it("finds a strip that is not of the print at an edge, however wide", () => {
    const { width, height, data } = discs({ width: 240, height: 200 });
    for (const wide of [1, 3, 6, 12, 20]) {
      const stride = (width + wide) * 3;
      const wider = new Uint8Array(stride * height).fill(255);
      for (let y = 0; y < height; y++)
        wider.set(data.subarray(y * width * 3, (y + 1) * width * 3), y * stride);
      const report = checkSeams({ width: width + wide, height, channels: 3, data: wider, stride });
      expect(report.edges.map(({ ok }) => ok)).toEqual([false, true]);
      if (wide <= 12) expect(report.edges[0]?.kind).toBe("gap");
    }
  });

  it("finds a shift of 2 px and says which way", () => {
    const [edge] = checkSeams(discs({ width: 240, height: 200, slip: 2 })).edges;
    expect(edge?.kind).toBe("shift");
    expect(Math.abs(edge?.shift?.along ?? 0)).toBeCloseTo(2, 0);
  });

  it("finds a motif without its partner", () => {
    const report = checkSeams(discs({ width: 240, height: 200, skip: true }));
    const [edge] = report.edges;
    expect(edge?.kind).toBe("cut");
    expect(edge?.runs).toHaveLength(1);
    // The disc stands at 60 with a radius of 31.
    expect(edge?.runs[0]?.px.from).toBeGreaterThan(25);
    expect(edge?.runs[0]?.px.to).toBeLessThan(95);
    expect(describeSeams(report)).toContain("Left and right edge: a motif is cut");
  });

  it("counts the columns and rows that stand twice, in words that agree", () => {
    const once = discs({ width: 240, height: 200 });
    const twice = (count: number): string | undefined => {
      const [width, stride] = [once.width + count, 3 * (once.width + count)];
      const data = new Uint8Array(stride * once.height);
      for (let y = 0; y < once.height; y++) {
        const row = once.data.subarray(y * once.stride, (y + 1) * once.stride);
        data.set(row, y * stride);
        data.set(row.subarray(0, 3 * count), y * stride + once.stride);
      }
      return checkSeams({ ...once, width, data, stride }).edges[0]?.mend;
    };
    expect(twice(1)).toBe("The last column of pixels repeats the first: crop it off the right edge.");
    expect(twice(2)).toBe("The last 2 columns of pixels repeat the first: crop them off the right edge.");
  });

  it("holds the sides against the repeat that is stated, in pixels and as lengths", () => {
    const image = discs({ width: 240, height: 200 });
    const kinds = (repeat: StatedRepeat) =>
      checkSeams(image, { dpi: 254, repeat }).edges.map((edge) => edge.kind);
    expect(kinds({ width: { px: 240 }, height: { px: 100 } })).toEqual([undefined, undefined]);
    expect(kinds({ width: "24mm", height: 20 })).toEqual([undefined, undefined]);
    // Half a pixel of a length is rounding; half a pixel of pixels is not.
    expect(kinds({ width: 24.04 })).toEqual([undefined, undefined]);
    expect(kinds({ width: { px: 239.6 } })).toEqual(["size", undefined]);
    expect(kinds({ height: { px: 66 } })).toEqual([undefined, "size"]);
    expect(checkSeams(image, { repeat: { height: { px: 66 } } }).edges[1]?.mend).toBe(
      "The height of 200 px is 2 px more than 3 stated repeats of 66 px: crop it to 198 px.",
    );
    expect(() => checkSeams(image, { repeat: { width: "24mm" } })).toThrow(/E_SIZE.*options\.repeat\.width/);
    expect(() => checkSeams(image, { repeat: { width: { px: 0 } } })).toThrow(/E_NUMBER/);
  });

  it("says where in mm when the resolution is known", () => {
    const [edge] = checkSeams(discs({ width: 240, height: 200, skip: true }), { dpi: 254 }).edges;
    const run = edge?.runs[0];
    expect(run?.mm?.from).toBeCloseTo((run?.px.from ?? 0) / 10, 9);
  });

  it("takes cells of every step that a layout may have", async () => {
    for (const along of ["column", "row"] as const)
      for (let q = 2; q <= 64; q++) {
        const step = { p: q - 1, q };
        const print = stepped({
          name: "Plain",
          width: 37.3,
          height: 41.9,
          along,
          step,
          ground: "#f3ead7",
          motifs: [],
        });
        const report = await checkSeams(tile(print, { extent: "cell" }), { rasterise: plain, dpi: 50 });
        expect(report.ok).toBe(true);
        expect((along === "column" ? report.height : report.width) % q).toBe(0);
      }
    const odd = {
      ...tile(straight({ name: "Plain", width: 40, height: 40, motifs: [] })),
      offset: { x: 0, y: 0.123456 },
    };
    await expect(checkSeams(odd, { rasterise: plain })).rejects.toThrow(/E_LAYOUT.*drawing\.offset/);
  });

  it("reads a drawing's size however it is written", async () => {
    const drawing = (size: string) =>
      `<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg"\n${size} viewBox="0 0 40 40"/>`;
    for (const size of [
      'width="40mm" height="40mm"',
      "height='40mm'\n width='40mm'",
      'version="1.1" height="4cm" id="a" width="40mm"',
    ]) {
      const { width, height } = await checkSeams(drawing(size), { rasterise: plain, dpi: 254 });
      expect([width, height]).toEqual([400, 400]);
    }
    const inches = await checkSeams(drawing('width="2in" height="1in"'), { rasterise: plain, dpi: 100 });
    expect([inches.width, inches.height]).toEqual([200, 100]);
    for (const size of ["", 'width="40mm"', 'width="0mm" height="40mm"', 'width="40" height="40mm"'])
      await expect(checkSeams(drawing(size), { rasterise: plain })).rejects.toThrow(/E_SIZE svg/);
  });

  it("refuses what it cannot judge", () => {
    const image = { width: 4, height: 40, channels: 1, data: new Uint8Array(160), stride: 4 } as const;
    expect(() => checkSeams(image)).toThrow(/E_IMAGE/);
    const layout = "diagonal" as "straight";
    expect(() => checkSeams(discs({ width: 40, height: 40 }), { layout })).toThrow(/E_LAYOUT/);
  });
});
