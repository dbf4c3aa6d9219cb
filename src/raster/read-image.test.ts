import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { crc32 } from "node:zlib";
import { encode } from "fast-png";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { RepetendError } from "../errors.js";
import { readImage } from "./read-image.js";
import { tiffDensity } from "./tiff-density.js";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "repetend-read-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

const refusal = async (work: Promise<unknown>): Promise<string> =>
  work.then(
    () => "none",
    (error: unknown) => (error instanceof RepetendError ? error.code : String(error)),
  );

const raw = (values: readonly number[], channels: 1 | 2 | 3 | 4) =>
  sharp(Buffer.from(values), { raw: { width: values.length / channels, height: 1, channels } });

/** The PNG with a pHYs chunk in pixels per metre behind its header, which ends at byte 33. */
function withPhysicalSize(png: Uint8Array, x: number, y: number): Uint8Array {
  const chunk = Buffer.alloc(21);
  chunk.writeUInt32BE(9, 0);
  chunk.write("pHYs", 4);
  chunk.writeUInt32BE(x, 8);
  chunk.writeUInt32BE(y, 12);
  chunk[16] = 1;
  chunk.writeUInt32BE(crc32(chunk.subarray(4, 17)), 17);
  return Buffer.concat([png.subarray(0, 33), chunk, png.subarray(33)]);
}

/** A TIFF of 8 x 8 px in one strip, as TIFF 6.0 has it; kinds of samples: 1 whole, 2 signed, 3 float. */
function tiffOf(bits: number, kind: number, pixels: Uint8Array, channels: 1 | 3 = 1): Uint8Array {
  const entries = [
    [256, 8],
    [257, 8],
    [258, bits],
    [259, 1],
    [262, channels === 1 ? 1 : 2],
    [273, 256],
    [277, channels],
    [278, 8],
    [279, pixels.length],
    [339, kind],
  ] as const;
  const file = Buffer.alloc(256 + pixels.length);
  file.write("II*\0", "latin1");
  file.writeUInt32LE(8, 4);
  file.writeUInt16LE(entries.length, 8);
  for (const [index, [tag, value]] of entries.entries()) {
    const at = 10 + 12 * index;
    const isTriple = channels === 3 && (tag === 258 || tag === 339);
    file.writeUInt16LE(tag, at);
    file.writeUInt16LE(tag === 273 || tag === 279 ? 4 : 3, at + 2);
    file.writeUInt32LE(isTriple ? 3 : 1, at + 4);
    file.writeUInt32LE(isTriple ? 200 + (tag === 258 ? 0 : 8) : value, at + 8);
    if (isTriple) for (const k of [0, 1, 2]) file.writeUInt16LE(value, 200 + (tag === 258 ? 0 : 8) + 2 * k);
  }
  file.set(pixels, 256);
  return file;
}

describe("readImage", () => {
  it("reads lossless formats exactly, from bytes and from a path", async () => {
    const values = [27, 42, 65, 200, 85, 61];
    const files = [
      await raw(values, 3).png().toBuffer(),
      await raw(values, 3).webp({ lossless: true }).toBuffer(),
      await raw(values, 3).tiff({ compression: "none" }).toBuffer(),
    ];
    for (const bytes of files) {
      const path = join(folder, "picture.dat");
      writeFileSync(path, bytes);
      for (const source of [bytes, path]) {
        const { data, ...rest } = await readImage(source);
        expect(rest).toMatchObject({ width: 2, height: 1, channels: 3, stride: 6 });
        expect([...data]).toEqual(values);
      }
    }
  });

  it("reads a JPEG within its loss", async () => {
    const image = await readImage(await raw([200, 85, 61], 3).jpeg({ quality: 100 }).toBuffer());
    for (const [k, value] of [200, 85, 61].entries()) {
      expect(Math.abs((image.data[k] ?? -99) - value)).toBeLessThanOrEqual(2);
    }
  });

  it("keeps alpha beside the colour and grey as one channel", async () => {
    const clear = await readImage(await raw([255, 0, 0, 128], 4).png().toBuffer());
    expect([clear.channels, ...clear.data]).toEqual([4, 255, 0, 0, 128]);
    const grey = await readImage(await raw([9, 200], 1).toColourspace("b-w").png().toBuffer());
    expect([grey.channels, ...grey.data]).toEqual([1, 9, 200]);
    const deep = await readImage(await raw([9, 200], 1).toColourspace("grey16").png().toBuffer());
    expect([deep.channels, ...deep.data]).toEqual([1, 9, 200]);
    const greyAlpha = await readImage(await raw([9, 128], 2).png().toBuffer());
    expect([greyAlpha.channels, ...greyAlpha.data]).toEqual([4, 9, 9, 9, 128]);
  });

  it("refuses samples that are read as black or clipped, and takes 16 bits and linear colour", async () => {
    const greys = new Float32Array(64).map((_, at) => (at % 8) / 8);
    const bytes = (samples: { readonly buffer: ArrayBufferLike }) => new Uint8Array(samples.buffer);
    const float = await readImage(tiffOf(32, 3, bytes(greys))).catch((error: unknown) => error);
    expect(float).toMatchObject({ code: "E_IMAGE", value: "float", accepted: "8 or 16 bits a sample" });
    const whole = new Uint32Array(64).map((_, at) => (at % 8) * 0x1fffffff);
    expect(await refusal(readImage(tiffOf(32, 1, bytes(whole))))).toBe("E_IMAGE");
    const signed = new Int16Array(64).map((_, at) => (at % 8) * 4000);
    expect(await refusal(readImage(tiffOf(16, 2, bytes(signed))))).toBe("E_IMAGE");
    const deep = new Uint16Array(64).map((_, at) => (at % 8) * 8191);
    expect([...(await readImage(tiffOf(16, 1, bytes(deep)))).data.subarray(0, 4)]).toEqual([0, 32, 64, 96]);
    // Half of the light is 188 in sRGB (IEC 61966-2-1).
    const light = new Float32Array(192).fill(0.5);
    expect((await readImage(tiffOf(32, 3, bytes(light), 3))).data[0]).toBe(188);
  });

  it("gives a decoder's reason in one line", async () => {
    const error = await readImage(tiffOf(8, 1, new Uint8Array())).catch((reason: unknown) => reason);
    // It says two lines: what, and that it could not be read.
    expect((error as RepetendError).problem).toMatch(/^the picture cannot be read: .+; .+$/);
  });

  it("undoes a camera's turn", async () => {
    const turned = await raw([255, 0, 0, 0, 0, 255], 3).withMetadata({ orientation: 6 }).png().toBuffer();
    const image = await readImage(turned);
    expect([image.width, image.height]).toEqual([1, 2]);
  });

  it("says the resolution where the file does, and nothing where it does not", async () => {
    const tiff = await raw([9], 1)
      .tiff({ xres: 300 / 25.4, yres: 300 / 25.4 })
      .toBuffer();
    expect((await readImage(tiff)).dpi).toEqual({ x: 300, y: 300 });
    const silent = encode({ width: 1, height: 1, channels: 1, data: Uint8Array.of(9) });
    expect("dpi" in (await readImage(silent))).toBe(false);
    // PNG specification, pHYs in pixels per metre: 11811 is 300 dpi, 10000 is 254 dpi; 11800 is none that is whole.
    const sized = (x: number, y: number) => withPhysicalSize(silent, x, y);
    expect((await readImage(sized(11811, 10000))).dpi).toEqual({ x: 300, y: 254 });
    expect((await readImage(sized(11800, 11800))).dpi?.x).toBeCloseTo(299.72, 9);
  });

  it.each([
    ["in inches", { resolutionUnit: "inch" }],
    ["in centimetres, as BigTIFF", { resolutionUnit: "cm", bigtiff: true }],
    ["in inches, deflated", { resolutionUnit: "inch", compression: "deflate" }],
  ] as const)("says the resolution of each axis of a TIFF %s", async (_, options) => {
    const size = { xres: 299.72 / 25.4, yres: 150 / 25.4 };
    const made = await raw([9, 8, 7, 6], 1)
      .tiff({ ...size, ...options })
      .toBuffer();
    const { dpi } = await readImage(made);
    expect(dpi?.x).toBeCloseTo(299.72, 4);
    expect(dpi?.y).toBe(150);
  });

  it("says of a JPEG only what it states, for each axis", async () => {
    const plain = await raw([9, 8], 1).jpeg().toBuffer();
    expect("dpi" in (await readImage(plain))).toBe(false);
    // JFIF 1.02: units (1: inches, 2: cm, 0: proportions only), then two numbers of 16 bits.
    const jfif = (unit: number, x: number, y: number) => {
      const size = [x >> 8, x & 255, y >> 8, y & 255];
      const segment = [0xff, 0xe0, 0, 16, 0x4a, 0x46, 0x49, 0x46, 0, 1, 2, unit, ...size, 0, 0];
      return Buffer.concat([plain.subarray(0, 2), Buffer.from(segment), plain.subarray(2)]);
    };
    expect((await readImage(jfif(1, 300, 150))).dpi).toEqual({ x: 300, y: 150 });
    expect((await readImage(jfif(2, 100, 50))).dpi).toEqual({ x: 254, y: 127 });
    expect("dpi" in (await readImage(jfif(0, 1, 1)))).toBe(false);
    const exif = await raw([9, 8], 1).withMetadata({ density: 360 }).jpeg().toBuffer();
    expect((await readImage(exif)).dpi).toEqual({ x: 360, y: 360 });
    const webp = await raw([9, 8, 7], 3).webp().toBuffer();
    expect("dpi" in (await readImage(webp))).toBe(false);
  });

  it("turns the resolution with a camera's turn", async () => {
    const turned = await raw([9, 8, 7, 6], 1)
      .withMetadata({ orientation: 6 })
      .tiff({ xres: 300 / 25.4, yres: 150 / 25.4 })
      .toBuffer();
    expect((await readImage(turned)).dpi).toEqual({ x: 150, y: 300 });
  });

  it("says no resolution where a TIFF gives proportions only, or is damaged", () => {
    const unitless = Uint8Array.of(
      ...[0x49, 0x49, 0x2a, 0, 8, 0, 0, 0, 1, 0],
      ...[0x28, 0x01, 3, 0, 1, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0],
    );
    expect(tiffDensity(unitless)).toBeUndefined();
    for (let length = 0; length < unitless.length; length++) {
      expect(tiffDensity(unitless.subarray(0, length))).toBeUndefined();
    }
  });

  it("refuses what is no picture, whatever it is called", async () => {
    const svg = '<svg xmlns="http://www.w3.org/2000/svg" width="1" height="1"/>';
    const path = join(folder, "drawing.png");
    writeFileSync(path, svg);
    expect(await refusal(readImage(path))).toBe("E_IMAGE");
    expect(await refusal(readImage(new Uint8Array(0)))).toBe("E_IMAGE");
    expect(await refusal(readImage(join(folder, "missing.png")))).toBe("E_READ");
    expect(await refusal(readImage(folder))).toBe("E_READ");
  });

  it("refuses a picture that was cut short", async () => {
    const noise = Array.from({ length: 3000 }, (_, k) => (k * 7919) % 251);
    for (const bytes of [await raw(noise, 3).png().toBuffer(), await raw(noise, 3).jpeg().toBuffer()]) {
      for (const share of [0.1, 0.5, 0.9]) {
        const cut = bytes.subarray(0, Math.floor(bytes.length * share));
        expect(await refusal(readImage(cut))).toBe("E_IMAGE");
      }
    }
  });
});
