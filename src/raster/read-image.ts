import { RepetendError } from "../errors.js";
import type { PixelImage } from "../image/index.js";
import { aPicture } from "./checks.js";
import { type Density, pngDensity } from "./density.js";
import { jpegDensity } from "./jpeg-density.js";
import { readWithin } from "./read-within.js";
import { tiffDensity } from "./tiff-density.js";

/** A picture of more pixels than this is refused: 1 GiB as RGBA. */
const PIXEL_LIMIT = 2 ** 28;

/** A file larger than this is refused unread: the size of PIXEL_LIMIT stored without compression. */
const BYTE_LIMIT = 2 ** 30;

type Format = "png" | "jpeg" | "tiff" | "webp";

const ascii = (bytes: Uint8Array, from: number, to: number): string =>
  String.fromCharCode(...bytes.subarray(from, to));

/** The format by its first bytes. Nothing else reaches the decoder, which would open drawings and documents too. */
function formatOf(bytes: Uint8Array): Format | undefined {
  if (ascii(bytes, 0, 8) === "\x89PNG\r\n\x1a\n") return "png";
  if (bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff) return "jpeg";
  if (["II*\0", "MM\0*", "II+\0", "MM\0+"].includes(ascii(bytes, 0, 4))) return "tiff";
  if (ascii(bytes, 0, 4) === "RIFF" && ascii(bytes, 8, 12) === "WEBP") return "webp";
  return undefined;
}

/** The resolution of each axis as the file states it; `told` is what the decoder makes of it, one number for both. */
function densityOf(format: Format, bytes: Uint8Array, told: number | undefined): Density | undefined {
  switch (format) {
    case "png":
      return pngDensity(bytes);
    case "tiff":
      return tiffDensity(bytes);
    case "jpeg":
      return jpegDensity(bytes);
    case "webp":
      return told === undefined ? undefined : { x: told, y: told };
  }
}

/**
 * The decoder takes all other samples as 8 bits, cut off: of floats, most would be black without a word. In colour they
 * are linear light, which it knows.
 */
const isReadable = (depth: string, space: string): boolean =>
  depth === "uchar" || depth === "ushort" || (depth === "float" && space === "scrgb");

/** The decoder's reasons, each once and in one line. */
function reasonOf(error: unknown): string {
  const text = error instanceof Error ? error.message : String(error);
  const lines = text.split("\n").map((line) => line.trim());
  return [...new Set(lines)].filter((line) => line !== "").join("; ");
}

/**
 * Reads a picture file: PNG, JPEG, TIFF or WebP, told by its bytes, not by its name. Colours become 8-bit sRGB (an
 * embedded profile is applied), alpha is never premultiplied, and a camera's turn is undone. Grey without alpha has one
 * channel, colour three, either with alpha four. `dpi` is there when the file states it.
 *
 * @param source the path of a file, or its bytes.
 * @throws `RepetendError` E_READ for a file that cannot be read, E_LIMIT for one of more than 1 GiB, E_IMAGE for one
 * that is no such picture, is damaged, has more than 2^28 pixels, or samples other than of 8 or 16 bits or linear RGB floats.
 *
 * @example
 * ```ts
 * import { encodePng } from "repetend/emit";
 * import { readImage } from "repetend/raster";
 * const one = { width: 1, height: 1, channels: 3, data: Uint8Array.of(27, 42, 65), stride: 3 } as const;
 * const image = await readImage(await encodePng(one, { dpi: { x: 300, y: 300 } }));
 * image.channels; // 3
 * image.dpi; // { x: 300, y: 300 }
 * ```
 */
export async function readImage(source: string | Uint8Array): Promise<PixelImage> {
  aPicture(source, "source");
  const input = typeof source === "string" ? { input: source } : {};
  const bytes = typeof source === "string" ? await readWithin(source, BYTE_LIMIT) : source;
  const format = formatOf(bytes);
  if (format === undefined) {
    throw new RepetendError("E_IMAGE", "this is not a picture that can be read", {
      ...input,
      accepted: "PNG, JPEG, TIFF or WebP",
    });
  }
  try {
    const { default: sharp } = await import("sharp");
    if (typeof sharp !== "function") {
      throw new RepetendError("E_IMAGE", "picture files are read in Node only", {
        ...input,
        accepted: "the pixels of a canvas, in a browser",
      });
    }
    const picture = sharp(bytes, { limitInputPixels: PIXEL_LIMIT, failOn: "warning" });
    const { density, depth, hasAlpha, orientation, space } = await picture.metadata();
    if (!isReadable(depth, space)) {
      throw new RepetendError("E_IMAGE", "the picture's samples are of a kind that is not read", {
        ...input,
        value: depth,
        accepted: "8 or 16 bits a sample",
      });
    }
    const isGrey = !hasAlpha && (space === "b-w" || space === "grey16");
    const { data, info } = await picture
      .autoOrient()
      .toColourspace(isGrey ? "b-w" : "srgb")
      .raw({ depth: "uchar" })
      .toBuffer({ resolveWithObject: true });
    const { width, height, channels } = info;
    if (channels === 2) throw new Error("grey with alpha was not widened");
    const stated = densityOf(format, bytes, density);
    // What a camera's turn lays on its side was stated before.
    const isTurned = orientation !== undefined && orientation >= 5;
    const dpi = stated !== undefined && isTurned ? { x: stated.y, y: stated.x } : stated;
    return { width, height, channels, data, stride: width * channels, ...(dpi === undefined ? {} : { dpi }) };
  } catch (error) {
    if (error instanceof RepetendError) throw error;
    const reason = reasonOf(error);
    throw new RepetendError("E_IMAGE", `the picture cannot be read: ${reason}`, { ...input, cause: error });
  }
}
