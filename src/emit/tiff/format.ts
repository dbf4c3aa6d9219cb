import { RepetendError } from "../../errors.js";
import { checkPaletteSize, checkSide } from "../check-picture.js";
import { aTiffHeader, aTiffRow } from "../checks.js";
import { checkIcc, type IccSpace } from "../profile/icc.js";
import { toRational } from "./rational.js";

/**
 * How a TIFF stores its pixels. Handed in are one byte a pixel for grey (a level) and palette (the place of a colour in
 * `entries`), three for `rgb` and `lab`, four for `rgba` and `cmyk`.
 */
export type TiffColour =
  | { readonly kind: "rgb" }
  /** Alpha is not premultiplied. */
  | { readonly kind: "rgba" }
  /** Of depth 1: white from level 128 on. */
  | { readonly kind: "grey"; readonly depth: 1 | 8 }
  /** 1 to 256 opaque colours `#rrggbb`; stored in 4 bits a pixel where there are 16 or fewer, else in 8. */
  | { readonly kind: "palette"; readonly entries: readonly string[] }
  /** 0 is no ink, 255 all of it. */
  | { readonly kind: "cmyk" }
  /** CIE L*a*b*: L* 0 to 100 as 0 to 255; a*, b* -128 to 127 as two's complement. */
  | { readonly kind: "lab" };

/** How strips are compressed; none of it loses anything. */
export type TiffCompression = "deflate" | "lzw" | "none";

/** What a TIFF says about itself in words; UTF-8, which in plain English is the ASCII that TIFF asks for. */
export interface TiffTexts {
  readonly documentName?: string;
  readonly description?: string;
  /** The program and its version. */
  readonly software?: string;
}

/** What stands in a TIFF beside its pixels. */
export interface TiffHeader {
  /** In pixels, 1 to 2^32 - 1. */
  readonly width: number;
  readonly height: number;
  readonly colour: TiffColour;
  readonly compression: TiffCompression;
  /** Rows that are compressed together, 1 or more; the last strip may have fewer. */
  readonly rowsPerStrip: number;
  /** Dots per inch along each axis; left out, the file says nothing about its physical size. */
  readonly dpi?: { readonly x: number; readonly y: number };
  readonly texts?: TiffTexts;
  /** A colour profile for the pixels, of their space. */
  readonly icc?: Uint8Array;
}

/** TIFF 6.0, section 2: sizes and offsets have 32 bits. */
export const TIFF_LIMIT: number = 2 ** 32 - 1;

/** Readers hold a strip in one piece of memory, and many count its bytes in signed 32 bits. */
const STRIP_LIMIT = 2 ** 31 - 1;

/** What is usual for a strip, in bytes before compression: little memory for readers, and many times Deflate's window. */
const USUAL_STRIP = 2 ** 18;

/** More than the directory takes, without lists of strips, texts and profile. */
const DIRECTORY_ROOM = 4096;

/** Bits a stored pixel takes. */
export function tiffBits(colour: TiffColour): number {
  switch (colour.kind) {
    case "rgb":
    case "lab":
      return 24;
    case "rgba":
    case "cmyk":
      return 32;
    case "grey":
      return colour.depth;
    case "palette":
      return colour.entries.length <= 16 ? 4 : 8;
  }
}

/** Bytes a pixel takes as it is handed in. */
export function tiffChannels(colour: TiffColour): 1 | 3 | 4 {
  const bits = tiffBits(colour);
  return bits === 24 ? 3 : bits === 32 ? 4 : 1;
}

/** Bytes a row takes before compression; each row starts on a byte. */
export function tiffRowBytes(header: Pick<TiffHeader, "width" | "colour">): number {
  return Math.ceil((header.width * tiffBits(header.colour)) / 8);
}

/**
 * Whether rows are stored as differences from pixel to pixel (TIFF 6.0, section 14): wherever the bytes are levels.
 * Differences of places in a palette mean nothing.
 */
export function isPredicted({ colour, compression }: Pick<TiffHeader, "colour" | "compression">): boolean {
  return compression !== "none" && colour.kind !== "palette" && tiffBits(colour) >= 8;
}

/** Rows a strip has where nobody asks for another number: as many as fill 256 KiB before compression, at least one. */
export function usualStripRows(header: Pick<TiffHeader, "width" | "colour">): number {
  aTiffRow(header, "header");
  return Math.max(1, Math.floor(USUAL_STRIP / tiffRowBytes(header)));
}

/** How many strips the picture has. */
export function countStrips(header: Pick<TiffHeader, "height" | "rowsPerStrip">): number {
  return Math.ceil(header.height / header.rowsPerStrip);
}

/**
 * Bytes a byte can become at worst. zlib stores what does not shrink, in blocks of several kB with five bytes in front of
 * each; LZW takes 12 bits, and a clear code for every 3836.
 */
const WORST = { none: 1, deflate: 1 + 2 ** -9, lzw: 1.5005 } as const;

/** What a strip may take beyond that: the ends of its stream, alignment, and its two places in the lists. */
const STRIP_ROOM = 96;

/**
 * Whether a picture is written as BigTIFF (64-bit offsets, as libtiff defines it): where, compressed as badly as can be,
 * it might pass the 4 GiB that classic TIFF reaches. Known before any pixel is.
 *
 * @example
 * ```ts
 * import { isBigTiff } from "repetend/emit";
 * const tile = { colour: { kind: "rgb" }, compression: "none", rowsPerStrip: 256 } as const;
 * isBigTiff({ ...tile, width: 20_000, height: 20_000 }); // false
 * isBigTiff({ ...tile, width: 40_000, height: 40_000 }); // true
 * ```
 */
export function isBigTiff(header: TiffHeader): boolean {
  aTiffHeader(header, "header");
  const pixels = tiffRowBytes(header) * header.height * WORST[header.compression];
  const words = Object.values(header.texts ?? {}).reduce((sum, text = "") => sum + 3 * text.length, 0);
  const around = DIRECTORY_ROOM + STRIP_ROOM * countStrips(header) + words + (header.icc?.length ?? 0);
  return pixels + around > TIFF_LIMIT;
}

const SPACES = { rgb: "RGB", rgba: "RGB", palette: "RGB", grey: "GRAY", cmyk: "CMYK", lab: "Lab" } as const;

/** The space of the profiles that fit a kind of colour. */
export const iccSpaceOf = (kind: TiffColour["kind"]): IccSpace => SPACES[kind];

function checkPalette(entries: readonly string[]): void {
  checkPaletteSize("TIFF", entries);
  for (const entry of entries) {
    if (/^#[0-9a-f]{6}$/i.test(entry)) continue;
    const isSheer = /^#[0-9a-f]{8}$/i.test(entry);
    throw new RepetendError(
      isSheer ? "E_FORMAT" : "E_COLOUR",
      isSheer ? "a TIFF's palette holds opaque colours only" : "a palette entry cannot be read",
      { value: entry, accepted: isSheer ? "#rrggbb; or RGBA instead of a palette" : "#rrggbb" },
    );
  }
}

/**
 * Refuses what a TIFF cannot hold.
 *
 * @throws `RepetendError` E_SIZE, E_TOO_LARGE, E_FORMAT or E_COLOUR.
 */
export function checkTiffHeader(header: TiffHeader): void {
  aTiffHeader(header, "header");
  for (const side of ["width", "height", "rowsPerStrip"] as const) {
    checkSide("TIFF", side, header[side], TIFF_LIMIT);
  }
  if (header.colour.kind === "palette") checkPalette(header.colour.entries);
  const strip = tiffRowBytes(header) * Math.min(header.height, header.rowsPerStrip);
  if (strip > STRIP_LIMIT) {
    throw new RepetendError("E_TOO_LARGE", "a strip of this TIFF would be too large for its readers", {
      value: `${strip} bytes`,
      accepted: `at most ${STRIP_LIMIT} bytes`,
    });
  }
  for (const axis of ["x", "y"] as const) {
    const dpi = header.dpi?.[axis];
    if (dpi !== undefined && toRational(dpi) === undefined) {
      throw new RepetendError("E_FORMAT", "a TIFF cannot state this resolution", {
        where: `dpi.${axis}`,
        value: String(dpi),
        accepted: `dots per inch, above 0, at most ${TIFF_LIMIT}`,
      });
    }
  }
  for (const [name, text] of Object.entries(header.texts ?? {})) {
    if (text?.includes("\0")) {
      throw new RepetendError("E_FORMAT", "a TIFF cannot hold a text with a NUL character", {
        where: `texts.${name}`,
        value: text,
        accepted: "text without NUL",
      });
    }
  }
  if (header.icc !== undefined) checkIcc(header.icc, iccSpaceOf(header.colour.kind));
}
