import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { inflateSync } from "node:zlib";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readInk } from "../../colour/index.js";
import { RepetendError } from "../../errors.js";
import type { PixelImage } from "../../image/index.js";
import { streamPng } from "../png/encode.js";
import type { PngHeader } from "../png/format.js";
import { encodeTiff } from "../tiff/encode.js";
import { checkIcc, iccSpace } from "./icc.js";

const hasPngcheck = spawnSync("pngcheck", ["-h"]).error === undefined;
const hasExiftool = spawnSync("exiftool", ["-ver"]).error === undefined;

const png = async (header: PngHeader, image: PixelImage): Promise<Buffer> => {
  const parts: Uint8Array[] = [];
  for await (const part of streamPng(header, [image])) parts.push(part);
  return Buffer.concat(parts);
};

/** The profile that the decoder knows by a name. */
async function profileOf(name: "p3" | "srgb" | "cmyk"): Promise<Buffer> {
  const picture = sharp({ create: { width: 1, height: 1, channels: 3, background: "#ffffff" } });
  const { icc } = await sharp(await picture.withIccProfile(name).jpeg().toBuffer()).metadata();
  return icc ?? Buffer.alloc(0);
}

const header = (space: string): Buffer => {
  const bytes = Buffer.alloc(132);
  bytes.writeUInt32BE(132, 0);
  bytes.write(space, 16, "latin1");
  bytes.write("acsp", 36, "latin1");
  return bytes;
};

const code = (work: () => unknown) => {
  try {
    work();
    return "none";
  } catch (error) {
    return error instanceof RepetendError ? error.code : error;
  }
};

let folder = "";
let p3: Buffer = Buffer.alloc(0);
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "repetend-icc-"));
  p3 = await profileOf("p3");
});
afterAll(() => rmSync(folder, { recursive: true }));

const reeds: PixelImage = {
  width: 2,
  height: 1,
  channels: 3,
  data: Uint8Array.of(200, 85, 61, 27, 42, 65),
  stride: 6,
};

describe("iccSpace", () => {
  it("reads the space of real profiles, and of headers by themselves", async () => {
    expect(iccSpace(p3)).toBe("RGB");
    expect(iccSpace(await profileOf("cmyk"))).toBe("CMYK");
    expect(["RGB ", "GRAY", "CMYK", "Lab "].map((space) => iccSpace(header(space)))).toEqual([
      "RGB",
      "GRAY",
      "CMYK",
      "Lab",
    ]);
  });

  it("reads bytes that start inside a larger buffer", () => {
    expect(iccSpace(Buffer.concat([Buffer.alloc(7), header("GRAY")]).subarray(7))).toBe("GRAY");
  });

  it("refuses what is no whole profile", () => {
    expect(code(() => iccSpace(new Uint8Array(0)))).toBe("E_FORMAT");
    expect(code(() => iccSpace(new Uint8Array(500)))).toBe("E_FORMAT");
    expect(code(() => iccSpace(p3.subarray(0, p3.length - 1)))).toBe("E_FORMAT");
    expect(code(() => iccSpace(Buffer.concat([p3, Buffer.alloc(1)])))).toBe("E_FORMAT");
    expect(code(() => iccSpace(header("RGB ").subarray(0, 131)))).toBe("E_FORMAT");
  });

  it("is what pixels are held to", () => {
    expect(code(() => checkIcc(p3, "RGB"))).toBe("none");
    expect(code(() => checkIcc(p3, "GRAY"))).toBe("E_FORMAT");
    expect(code(() => checkIcc(header("CMYK"), "RGB"))).toBe("E_FORMAT");
  });
});

describe("a profile in a PNG", () => {
  const colours = [{ kind: "rgb" }, { kind: "palette", entries: ["#c8553d", "#1b2a41"] }] as const;
  const pictures = [reeds, { ...reeds, channels: 1, data: Uint8Array.of(0, 1), stride: 2 }] as const;

  it("stands in iCCP instead of sRGB, in front of the palette, and is read back whole", async () => {
    for (const [index, colour] of colours.entries()) {
      const image = pictures[index] ?? reeds;
      const bytes = await png({ width: 2, height: 1, colour, icc: p3, iccName: "Display P3" }, image);
      expect(bytes.includes("sRGB")).toBe(false);
      const at = bytes.indexOf("iCCP");
      if (colour.kind === "palette") expect(at).toBeLessThan(bytes.indexOf("PLTE"));
      const data = bytes.subarray(at + 4, at + 4 + bytes.readUInt32BE(at - 4));
      expect(data.subarray(0, 12).toString("latin1")).toBe("Display P3\0\0");
      expect(Buffer.compare(inflateSync(data.subarray(12)), p3)).toBe(0);
      const { icc } = await sharp(bytes).metadata();
      expect(Buffer.compare(icc ?? Buffer.alloc(0), p3)).toBe(0);
      const path = join(folder, "profile.png");
      writeFileSync(path, bytes);
      if (hasPngcheck) expect(spawnSync("pngcheck", ["-q", path], { encoding: "utf8" }).stdout).toBe("");
    }
  });

  it("changes the colours as it says", async () => {
    const bytes = await png({ width: 2, height: 1, colour: { kind: "rgb" }, icc: p3 }, reeds);
    const seen = await sharp(bytes).toColourspace("srgb").raw().toBuffer();
    // The same as CSS Color 4 has it, by the colour room.
    const wide = readInk(`color(display-p3 ${200 / 255} ${85 / 255} ${61 / 255})`);
    [...Buffer.from(wide.slice(1), "hex")].forEach((level, k) => {
      expect(Math.abs((seen[k] ?? 0) - level)).toBeLessThanOrEqual(1);
    });
    expect(wide).not.toBe("#c8553d");
  });

  it("must be of the pixels' space, under a name that a PNG holds", async () => {
    const grey: PixelImage = { ...reeds, channels: 1, stride: 2 };
    const refused = (header: PngHeader, image: PixelImage) =>
      png(header, image).then(
        () => "none",
        (error: unknown) => (error instanceof RepetendError ? error.code : error),
      );
    const size = { width: 2, height: 1 };
    const level = { kind: "grey", depth: 8 } as const;
    expect(await refused({ ...size, colour: level, icc: p3 }, grey)).toBe("E_FORMAT");
    expect(await refused({ ...size, colour: level, icc: header("GRAY") }, grey)).toBe("none");
    expect(await refused({ ...size, colour: { kind: "rgb" }, icc: header("CMYK") }, reeds)).toBe("E_FORMAT");
    expect(await refused({ ...size, colour: { kind: "rgb" }, icc: p3, iccName: "" }, reeds)).toBe("E_FORMAT");
    const long = "x".repeat(80);
    expect(await refused({ ...size, colour: { kind: "rgb" }, icc: p3, iccName: long }, reeds)).toBe(
      "E_FORMAT",
    );
  });
});

describe("a profile in a TIFF", () => {
  it("is read back whole, and must be of the pixels' space", async () => {
    const bytes = await encodeTiff(reeds, { icc: p3 });
    const { icc } = await sharp(bytes).metadata();
    expect(Buffer.compare(icc ?? Buffer.alloc(0), p3)).toBe(0);
    await expect(encodeTiff(reeds, { icc: header("CMYK") })).rejects.toThrow(/^E_FORMAT/);
    await expect(encodeTiff(reeds, { icc: header("Lab "), colour: { kind: "lab" } })).resolves.toBeDefined();
  });

  it.skipIf(!hasExiftool)("is understood by exiftool", async () => {
    const path = join(folder, "profile.tif");
    writeFileSync(path, await encodeTiff(reeds, { icc: p3, compression: "lzw", dpi: { x: 300, y: 300 } }));
    const run = spawnSync("exiftool", ["-s3", "-ICC_Profile:ColorSpaceData", path], { encoding: "utf8" });
    expect(run.stdout.trim()).toBe("RGB");
    const validity = spawnSync("exiftool", ["-q", "-validate", "-warning", "-error", "-a", "-s3", path], {
      encoding: "utf8",
    });
    expect(validity.stdout.trim()).toBe("OK");
  });
});
