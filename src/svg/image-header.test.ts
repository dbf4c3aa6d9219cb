import sharp from "sharp";
import { expect, it } from "vitest";
import { readPictureHeader } from "./image-header.js";

const picture = sharp({ create: { width: 37, height: 21, channels: 3, background: "teal" } });

// Files that an independent library wrote.
it.each([
  ["image/png", () => picture.clone().png()],
  ["image/jpeg", () => picture.clone().jpeg()],
  ["image/jpeg", () => picture.clone().jpeg({ progressive: true }).withMetadata()],
  ["image/gif", () => picture.clone().gif()],
  ["image/webp", () => picture.clone().webp()],
  ["image/webp", () => picture.clone().webp({ lossless: true })],
  ["image/webp", () => picture.clone().ensureAlpha(0.5).webp().withMetadata()],
] as const)("reads the size of %s", async (type, make) => {
  const bytes = await make().toBuffer();
  expect(readPictureHeader(bytes)).toEqual({ type, width: 37, height: 21 });
  expect(readPictureHeader(bytes.subarray(0, 9))).toBeUndefined();
});
