import sharp from "sharp";
import { expect, it } from "vitest";
import { readDrawing } from "../read-drawing.js";
import { readPictureHeader } from "./header.js";

const picture = sharp({ create: { width: 37, height: 21, channels: 3, background: "teal" } });

// Files that an independent library wrote.
it.each([
  ["image/png", () => picture.clone().png()],
  ["image/jpeg", () => picture.clone().jpeg()],
  ["image/jpeg", () => picture.clone().jpeg({ progressive: true }).withMetadata()],
  ["image/gif", () => picture.clone().gif()],
] as const)("reads the size of %s", async (type, make) => {
  const bytes = await make().toBuffer();
  expect(readPictureHeader(bytes)).toEqual({ type, width: 37, height: 21 });
  expect(readPictureHeader(bytes.subarray(0, 9))).toBeUndefined();
});

const embed = (bytes: Buffer): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><image width="9" height="9" href="data:image/png;base64,${bytes.toString("base64")}"/></svg>`;

// The renderer draws nothing at all of these, or not as they are meant, and says nothing.
it.each([
  ["WebP", () => picture.clone().webp().toBuffer()],
  ["WebP without loss", () => picture.clone().webp({ lossless: true }).toBuffer()],
  ["CMYK", () => picture.clone().toColourspace("cmyk").jpeg().toBuffer()],
  ["turned by its metadata", () => picture.clone().withMetadata({ orientation: 6 }).jpeg().toBuffer()],
  ["cut off", async () => (await picture.clone().png().toBuffer()).subarray(0, -20)],
])("refuses an embedded picture that would be lost: %s", async (_, make) => {
  const drawing = embed(await make());
  expect(() => readDrawing(drawing)).toThrow(expect.objectContaining({ code: "E_IMAGE", where: "1:59" }));
});

it("keeps embedded pictures that are upright by their metadata, or grey", async () => {
  for (const plain of [
    picture.clone().withMetadata({ orientation: 1 }).jpeg(),
    picture.clone().greyscale().jpeg(),
  ]) {
    expect(readDrawing(embed(await plain.toBuffer())).body[0]?.name).toBe("image");
  }
});
