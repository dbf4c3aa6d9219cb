import { describe, expect, it } from "vitest";
import { RepetendError } from "../../errors.js";
import type { PixelImage } from "../../image/index.js";
import { streamTiff } from "./encode.js";
import { isBigTiff, TIFF_LIMIT, type TiffCompression, type TiffHeader } from "./format.js";
import { TiffSink } from "./sink.js";
import { compressStrips } from "./strips.js";

describe("isBigTiff", () => {
  const rgb = { colour: { kind: "rgb" }, rowsPerStrip: 64 } as const;
  const isBig = (width: number, height: number, compression: TiffCompression) =>
    isBigTiff({ ...rgb, width, height, compression });

  it("is asked at 4 GiB, worst compression counted", () => {
    // 37,837 squared times 3 is 4,294,915,707, some 50 kB short of 2^32: too near for directory and lists.
    expect(isBig(37_800, 37_800, "none")).toBe(false);
    expect(isBig(37_837, 37_837, "none")).toBe(true);
    expect(isBig(37_820, 37_820, "deflate")).toBe(true);
    expect(isBig(37_700, 37_700, "deflate")).toBe(false);
    expect(isBig(31_000, 31_000, "lzw")).toBe(true);
    expect(isBig(30_500, 30_500, "lzw")).toBe(false);
  });

  it("counts the profile and the texts", () => {
    const header = { ...rgb, width: 37_830, height: 37_830, compression: "none" } as const;
    expect(isBigTiff(header)).toBe(false);
    expect(isBigTiff({ ...header, icc: new Uint8Array(2 ** 21) })).toBe(true);
    expect(isBigTiff({ ...header, texts: { description: "x".repeat(2 ** 20) } })).toBe(true);
  });

  it("never lets bytes that do not shrink pass what it counts on", async () => {
    const data = Uint8Array.from(
      { length: 300_000 },
      (_, k) => (Math.imul(k + 1, 0x9e3779b1) ^ (k * k)) >>> 13,
    );
    for (const length of [1, 100, 65_536, 300_000]) {
      const image: PixelImage = { width: length, height: 1, channels: 1, data, stride: length };
      const colour = { kind: "grey", depth: 8 } as const;
      const [zlib] = await compressStrips(image, colour, { compression: "deflate", rowsPerStrip: 1 });
      expect(zlib?.length).toBeLessThanOrEqual(length * (1 + 2 ** -9) + 64);
      const [lzw] = await compressStrips(image, colour, { compression: "lzw", rowsPerStrip: 1 });
      expect(lzw?.length).toBeLessThanOrEqual(length * 1.5005 + 64);
    }
  });
});

describe("refusals", () => {
  const grey: PixelImage = { width: 1, height: 1, channels: 1, data: Uint8Array.of(3), stride: 1 };
  const header: TiffHeader = {
    width: 1,
    height: 1,
    colour: { kind: "grey", depth: 8 },
    compression: "none",
    rowsPerStrip: 1,
  };
  const refusal = async (change: Partial<TiffHeader>, image: PixelImage = grey) =>
    streamTiff({ write: async () => {}, patch: async () => {} }, { ...header, ...change }, [image]).then(
      () => "none",
      (error: unknown) => (error instanceof RepetendError ? error.code : error),
    );

  it("come before any pixel is read", async () => {
    expect(await refusal({})).toBe("none");
    expect(await refusal({ width: 0 })).toBe("E_SIZE");
    expect(await refusal({ height: 1.5 })).toBe("E_SIZE");
    expect(await refusal({ rowsPerStrip: 0 })).toBe("E_SIZE");
    expect(await refusal({ width: TIFF_LIMIT + 1 })).toBe("E_TOO_LARGE");
    expect(await refusal({ width: 2 ** 31, colour: { kind: "rgb" } })).toBe("E_TOO_LARGE");
    expect(await refusal({ colour: { kind: "palette", entries: [] } })).toBe("E_FORMAT");
    expect(await refusal({ colour: { kind: "palette", entries: ["red"] } })).toBe("E_COLOUR");
    expect(await refusal({ colour: { kind: "palette", entries: ["#c8553d80"] } })).toBe("E_FORMAT");
    expect(await refusal({ dpi: { x: 0, y: 300 } })).toBe("E_FORMAT");
    expect(await refusal({ dpi: { x: 300, y: Number.NaN } })).toBe("E_FORMAT");
    expect(await refusal({ dpi: { x: 300, y: 2 ** 32 } })).toBe("E_FORMAT");
    expect(await refusal({ texts: { software: "a\0b" } })).toBe("E_FORMAT");
    expect(await refusal({ icc: new Uint8Array(200) })).toBe("E_FORMAT");
  });

  it("name pixels that do not fit", async () => {
    expect(await refusal({ width: 2 })).toBe("E_IMAGE");
    expect(await refusal({ height: 2 })).toBe("E_IMAGE");
    expect(await refusal({ colour: { kind: "cmyk" } })).toBe("E_IMAGE");
    expect(await refusal({ colour: { kind: "palette", entries: ["#1b2a41", "#c8553d", "#f3ead7"] } })).toBe(
      "E_IMAGE",
    );
    expect(await refusal({}, { ...grey, height: 2 })).toBe("E_IMAGE");
    expect(await refusal({}, { ...grey, data: new Uint8Array(0) })).toBe("E_IMAGE");
  });

  it("include strips of no rows", async () => {
    for (const rowsPerStrip of [0, -1, 0.5, Number.NaN]) {
      const work = compressStrips(grey, { kind: "grey", depth: 8 }, { compression: "none", rowsPerStrip });
      await expect(work).rejects.toThrow(/^E_SIZE/);
    }
  });

  it("include strips that are missing or too many", async () => {
    const end = async (count: number) => {
      const file = new TiffSink({ write: async () => {}, patch: async () => {} });
      await file.start({ ...header, height: 2 });
      await file.add(Array.from({ length: count }, () => Uint8Array.of(3)));
      await file.end();
    };
    await expect(end(1)).rejects.toThrow(/E_IMAGE/);
    await expect(end(3)).rejects.toThrow(/E_IMAGE/);
    await expect(end(2)).resolves.toBeUndefined();
  });
});
