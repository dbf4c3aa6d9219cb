import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { fromArrayBuffer } from "geotiff";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { toLab } from "../../colour/index.js";
import { RepetendError } from "../../errors.js";
import type { PixelImage } from "../../image/index.js";
import { encodeTiff } from "../tiff/encode.js";
import { CmykConverter } from "./cmyk.js";
import { toLabPixels } from "./lab.js";

let folder = "";
let profile: Uint8Array = new Uint8Array(0);
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "repetend-convert-"));
  // The decoder's own profile of a press, taken out of a picture that it writes.
  const picture = sharp({ create: { width: 1, height: 1, channels: 3, background: "#ffffff" } });
  const { icc } = await sharp(await picture.withIccProfile("cmyk").jpeg().toBuffer()).metadata();
  profile = icc ?? profile;
});
afterAll(() => rmSync(folder, { recursive: true }));

const rgbOf = (...colours: readonly (readonly number[])[]): PixelImage => ({
  width: colours.length,
  height: 1,
  channels: 3,
  data: Uint8Array.from(colours.flat()),
  stride: colours.length * 3,
});

const code = (error: unknown) => (error instanceof RepetendError ? error.code : error);
const refusal = (work: Promise<unknown>) => work.then(() => "none", code);

const noise = (width: number, height: number): PixelImage => ({
  width,
  height,
  channels: 3,
  stride: width * 3 + 2,
  data: Uint8Array.from(
    { length: (width * 3 + 2) * height },
    (_, k) => Math.imul(k + 1, 0x9e3779b1) >>> 24, // spread by the golden ratio
  ),
});

async function inOneGo<T>(work: (converter: CmykConverter) => Promise<T>): Promise<T> {
  const converter = await CmykConverter.open(profile);
  try {
    return await work(converter);
  } finally {
    await converter.close();
  }
}

describe("CmykConverter", () => {
  it("leaves white as bare paper, and lays more ink for darker colours", async () => {
    const { data, channels } = await inOneGo((converter) =>
      converter.convert(rgbOf([255, 255, 255], [200, 200, 200], [90, 90, 90], [0, 0, 0])),
    );
    expect(channels).toBe(4);
    const sums = [0, 4, 8, 12].map((at) => data.subarray(at, at + 4).reduce((sum, ink) => sum + ink, 0));
    expect(sums[0]).toBe(0);
    expect(sums).toEqual([...sums].sort((a, b) => a - b));
    expect(new Set(sums).size).toBe(4);
  });

  it("gives bands as it gives the whole, so that no picture is too large", async () => {
    await inOneGo(async (converter) => {
      const image = noise(97, 60);
      const whole = await converter.convert(image);
      for (const rows of [1, 7, 32]) {
        for (let y = 0; y < image.height; y += rows) {
          const height = Math.min(rows, image.height - y);
          const band = await converter.convert({
            ...image,
            height,
            data: image.data.subarray(y * image.stride, (y + height) * image.stride),
          });
          const same = whole.data.subarray(y * whole.stride, (y + height) * whole.stride);
          expect(Buffer.compare(band.data, same)).toBe(0);
        }
      }
    });
  });

  it("gives a pixel what it gives it among others", async () => {
    await inOneGo(async (converter) => {
      const colours = fc.tuple(fc.nat(255), fc.nat(255), fc.nat(255));
      const several = fc.array(colours, { minLength: 2, maxLength: 40 });
      await fc.assert(
        fc.asyncProperty(several, async (list) => {
          const { data } = await converter.convert(rgbOf(...list));
          const last = await converter.convert(rgbOf(list.at(-1) ?? []));
          expect([...data.subarray(-4)]).toEqual([...last.data]);
        }),
        { numRuns: 30 },
      );
    });
  });

  it("makes TIFFs that look like the print through the profile in them", async () => {
    const colours = [
      [255, 255, 255],
      [200, 85, 61],
      [243, 234, 215],
      [90, 120, 90],
      [128, 128, 128],
    ] as const;
    const bytes = await inOneGo(async (converter) =>
      encodeTiff(await converter.convert(rgbOf(...colours)), {
        colour: { kind: "cmyk" },
        icc: converter.icc,
      }),
    );
    const { icc, space } = await sharp(bytes).metadata();
    expect(space).toBe("cmyk");
    expect(Buffer.compare(icc ?? Buffer.alloc(0), profile)).toBe(0);
    const seen = await sharp(bytes).toColourspace("srgb").raw().toBuffer();
    // What a press can print comes back but for the tables' own error: 23 levels at most were seen, in blue.
    colours.flat().forEach((level, k) => {
      expect(Math.abs((seen[k] ?? 0) - level)).toBeLessThanOrEqual(25);
    });
  });

  it("takes the path of a file as well as its bytes", async () => {
    const path = join(folder, "press.icc");
    writeFileSync(path, profile);
    const converter = await CmykConverter.open(path);
    const byPath = await converter.convert(noise(10, 2));
    await converter.close();
    const byBytes = await inOneGo((one) => one.convert(noise(10, 2)));
    expect(Buffer.compare(byPath.data, byBytes.data)).toBe(0);
    expect(Buffer.compare(converter.icc, profile)).toBe(0);
  });

  it("refuses bare cloth and grey, and bytes that do not fit", async () => {
    await inOneGo(async (converter) => {
      const bare = { width: 1, height: 1, channels: 4, data: new Uint8Array(4), stride: 4 } as const;
      await expect(converter.convert(bare)).rejects.toThrow(/^E_FORMAT.*give the print a ground/);
      const grey = { width: 1, height: 1, channels: 1, data: new Uint8Array(1), stride: 1 } as const;
      expect(await refusal(converter.convert(grey))).toBe("E_FORMAT");
      expect(await refusal(converter.convert({ ...rgbOf([1, 2, 3]), height: 2 }))).toBe("E_IMAGE");
      expect(await refusal(converter.convert({ ...rgbOf([1, 2, 3]), stride: 2 }))).toBe("E_IMAGE");
    });
  });

  it("refuses what is no usable profile of a press, and leaves no temporary file", async () => {
    const temporaries = () => readdirSync(tmpdir()).filter((name) => name.startsWith("repetend-profile-"));
    const before = temporaries();
    expect(await refusal(CmykConverter.open(join(folder, "none.icc")))).toBe("E_READ");
    expect(await refusal(CmykConverter.open(new Uint8Array(500)))).toBe("E_FORMAT");
    expect(await refusal(CmykConverter.open(profile.subarray(0, 3000)))).toBe("E_FORMAT");
    // A header that is in order, over tables that are cut off: the converter alone would say nothing.
    const hollow = Buffer.from(profile.subarray(0, 3000));
    hollow.writeUInt32BE(3000, 0);
    expect(await refusal(CmykConverter.open(hollow))).toBe("E_FORMAT");
    const rgb = Buffer.from(profile);
    rgb.write("RGB ", 16, "latin1");
    expect(await refusal(CmykConverter.open(rgb))).toBe("E_FORMAT");
    const path = join(folder, "no-profile.csv");
    writeFileSync(path, "ink,Dusk");
    await expect(CmykConverter.open(path)).rejects.toThrow(`E_FORMAT ${path}: this is no colour profile`);
    await inOneGo((converter) => converter.convert(rgbOf([1, 2, 3])));
    expect(temporaries().filter((name) => !before.includes(name))).toEqual([]);
  });
});

describe("toLabPixels", () => {
  it("agrees with the colour room's Lab of D50 to within the rounding", () => {
    const colours = fc.tuple(fc.nat(255), fc.nat(255), fc.nat(255));
    fc.assert(
      fc.property(colours, (rgb) => {
        const hex = `#${Buffer.from(rgb).toString("hex")}`;
        const exact = toLab(hex, "D50");
        const { data } = toLabPixels(rgbOf(rgb));
        const [l = 0, a = 0, b = 0] = [data[0], ...new Int8Array(data).subarray(1)];
        expect(Math.abs(l - (exact.l * 255) / 100)).toBeLessThanOrEqual(0.5 + 1e-9);
        expect(Math.abs(a - exact.a)).toBeLessThanOrEqual(0.5 + 1e-9);
        expect(Math.abs(b - exact.b)).toBeLessThanOrEqual(0.5 + 1e-9);
      }),
      { numRuns: 2000 },
    );
  });

  it("has the neutrals at a* and b* 0, and the published Lab of a green", () => {
    const { data } = toLabPixels(rgbOf([255, 255, 255], [0, 0, 0], [128, 128, 128], [0, 128, 0]));
    expect([...data.subarray(0, 6)]).toEqual([255, 0, 0, 0, 0, 0]);
    expect([...data.subarray(7, 9)]).toEqual([0, 0]);
    // web-platform-tests, css-color: lab(46.277 -47.562 48.583) is #008000. By 255/100: 118.006.
    expect([...data.subarray(9)]).toEqual([118, 256 - 48, 49]);
  });

  it("gives bands as it gives the whole, and skips padding", () => {
    const image = noise(31, 9);
    const whole = toLabPixels(image);
    for (let y = 0; y < image.height; y++) {
      const band = toLabPixels({ ...image, height: 1, data: image.data.subarray(y * image.stride) });
      expect([...band.data]).toEqual([...whole.data.subarray(y * whole.stride, (y + 1) * whole.stride)]);
    }
  });

  it("makes TIFFs that a second decoder reads the same, and tiffinfo without complaint", async () => {
    const lab = toLabPixels(noise(40, 25));
    const bytes = await encodeTiff(lab, { colour: { kind: "lab" }, compression: "lzw", rowsPerStrip: 4 });
    const image = await (await fromArrayBuffer(Uint8Array.from(bytes).buffer)).getImage();
    expect(await image.fileDirectory.loadValue("PhotometricInterpretation")).toBe(8);
    const samples = (await image.readRasters({ interleave: true })) as Uint8Array;
    expect(Buffer.compare(Uint8Array.from(samples), lab.data)).toBe(0);
    const path = join(folder, "lab.tif");
    writeFileSync(path, bytes);
    const run = spawnSync("tiffinfo", ["-D", path], { encoding: "utf8" });
    if (run.error === undefined) expect([run.status, run.stderr]).toEqual([0, ""]);
  });

  it("refuses bare cloth", () => {
    const bare = { width: 1, height: 1, channels: 4, data: new Uint8Array(4), stride: 4 } as const;
    expect(() => toLabPixels(bare)).toThrow(/^E_FORMAT.*give the print a ground/);
  });
});
