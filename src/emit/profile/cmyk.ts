import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { RepetendError, renameInput } from "../../errors.js";
import { anImage } from "../../image/checks.js";
import type { PixelImage } from "../../image/index.js";
import { readWithin } from "../../raster/read-within.js";
import { aProfile } from "../checks.js";
import { codeOf } from "../files/atomic.js";
import { checkIcc, type IccSpace, iccSpace } from "./icc.js";

const WHITE: PixelImage = { width: 1, height: 1, channels: 3, data: Uint8Array.of(255, 255, 255), stride: 3 };

/**
 * The bytes of RGB pixels without padding.
 *
 * @throws `RepetendError` E_FORMAT for pixels with alpha, or grey; E_IMAGE for bytes that do not fit.
 */
export function plainRgb({ width, height, channels, data, stride }: PixelImage, into: string): Uint8Array {
  if (channels !== 3) {
    throw new RepetendError("E_FORMAT", `only opaque colours can be turned into ${into}`, {
      value: channels === 4 ? "pixels with alpha" : "grey pixels",
      accepted: channels === 4 ? "RGB: give the print a ground" : "RGB",
    });
  }
  const row = width * 3;
  if (stride < row || data.length < stride * (height - 1) + row) {
    throw new RepetendError("E_IMAGE", "the pixels do not fill the picture", {
      value: `${data.length} bytes, stride ${stride}`,
      accepted: `${width} x ${height} pixels`,
    });
  }
  if (stride === row) return data.subarray(0, row * height);
  const plain = new Uint8Array(row * height);
  for (let y = 0; y < height; y++) plain.set(data.subarray(y * stride, y * stride + row), y * row);
  return plain;
}

/** The largest profiles that are about have some megabytes. */
const PROFILE_LIMIT = 64 * 2 ** 20;

/** The bytes of a profile; what is none is refused with its path. */
export async function readProfile(profile: string | Uint8Array, space?: IccSpace): Promise<Uint8Array> {
  const icc = typeof profile === "string" ? await readWithin(profile, PROFILE_LIMIT) : profile;
  try {
    if (space === undefined) iccSpace(icc);
    else checkIcc(icc, space);
    return icc;
  } catch (error) {
    throw typeof profile === "string" ? renameInput(error, profile) : error;
  }
}

/** A file with the profile in it, in a folder that only this user reads: the converter takes profiles by path. */
async function keepProfile(icc: Uint8Array): Promise<string> {
  try {
    const folder = await mkdtemp(join(tmpdir(), "repetend-profile-"));
    const path = join(folder, "cmyk.icc");
    await writeFile(path, icc, { flag: "wx", mode: 0o600 });
    return path;
  } catch (error) {
    throw new RepetendError("E_WRITE", `cannot write a temporary file: ${codeOf(error) ?? String(error)}`, {
      input: tmpdir(),
      cause: error,
    });
  }
}

/**
 * Turns sRGB pixels into the inks of a press, as a CMYK profile of it says: open, convert band after band, close.
 *
 * Each pixel is converted by itself, so bands come out as the whole picture would, and there is no limit of size. The
 * rendering intent is perceptual, by the profile's own tables, since `sharp` offers no other; black point compensation
 * is not asked for.
 *
 * @example
 * ```ts
 * import { CmykConverter, encodeTiff } from "repetend/emit";
 * import type { PixelImage } from "repetend";
 * async function asCmyk(picture: PixelImage, profile: string): Promise<Uint8Array> {
 *   const converter = await CmykConverter.open(profile);
 *   try {
 *     const inks = await converter.convert(picture);
 *     return await encodeTiff(inks, { colour: { kind: "cmyk" }, icc: converter.icc });
 *   } finally {
 *     await converter.close();
 *   }
 * }
 * typeof asCmyk; // "function"
 * ```
 */
export class CmykConverter {
  /** The profile, to embed beside the pixels. */
  readonly icc: Uint8Array;
  /** Where the profile lies while the converter is open. */
  readonly path: string;
  readonly #isTemporary: boolean;

  private constructor(icc: Uint8Array, path: string, isTemporary: boolean) {
    this.icc = icc;
    this.path = path;
    this.#isTemporary = isTemporary;
  }

  /**
   * @param profile a CMYK profile: the path of its file, or its bytes.
   * @throws `RepetendError` E_READ, E_LIMIT for a file that cannot be read; E_FORMAT for what is no CMYK profile, or one
   * that cannot be used; E_WRITE where no temporary file can be written.
   */
  static async open(profile: string | Uint8Array): Promise<CmykConverter> {
    aProfile(profile, "profile");
    const icc = await readProfile(profile, "CMYK");
    const isTemporary = typeof profile !== "string";
    const path = isTemporary ? await keepProfile(icc) : profile;
    const converter = new CmykConverter(icc, path, isTemporary);
    try {
      await converter.convert(WHITE);
      return converter;
    } catch (error) {
      await converter.close();
      throw error;
    }
  }

  /**
   * @param image sRGB without alpha.
   * @returns four channels: cyan, magenta, yellow, black, 0 no ink and 255 all of it.
   * @throws `RepetendError` E_FORMAT for pixels with alpha, or grey; E_IMAGE for bytes that do not fit the size.
   */
  async convert(image: PixelImage): Promise<PixelImage> {
    anImage(image, "image");
    const { width, height, dpi } = image;
    const plain = plainRgb(image, "CMYK");
    const { default: sharp } = await import("sharp");
    const picture = sharp(plain, { raw: { width, height, channels: 3 }, limitInputPixels: false });
    const { data, info } = await picture
      .withIccProfile(this.path)
      .raw()
      .toBuffer({ resolveWithObject: true });
    // With a profile that it cannot use the converter leaves the pixels as they are.
    if (info.channels !== 4) {
      throw new RepetendError("E_FORMAT", "the colour profile cannot be used to convert into CMYK", {
        input: "icc",
        accepted: "the profile of a press, with tables from Lab to its inks",
      });
    }
    return { width, height, channels: 4, data, stride: width * 4, ...(dpi === undefined ? {} : { dpi }) };
  }

  /** Removes the temporary file, where there is one. */
  async close(): Promise<void> {
    if (this.#isTemporary) await rm(dirname(this.path), { recursive: true, force: true });
  }
}
