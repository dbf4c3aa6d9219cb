import { crc32, deflateSync } from "node:zlib";
import { RepetendError } from "../../errors.js";
import { checkPaletteSize, checkSide } from "../check-picture.js";
import { checkIcc } from "../profile/icc.js";

/**
 * How a PNG stores its pixels. All but `rgb` and `rgba` take one byte a pixel: a grey level, or the place of a colour
 * in `entries`. A palette is stored in 1, 2, 4 or 8 bits, the fewest that hold its entries; grey of depth 1 is white
 * from level 128 on.
 */
export type PngColour =
  | { readonly kind: "rgb" }
  | { readonly kind: "rgba" }
  | { readonly kind: "grey"; readonly depth: 1 | 8 }
  /** 1 to 256 colours, `#rrggbb` or `#rrggbbaa`. */
  | { readonly kind: "palette"; readonly entries: readonly string[] };

/** What stands in a PNG beside its pixels. */
export interface PngHeader {
  /** In pixels, 1 to 2^31 - 1. */
  readonly width: number;
  readonly height: number;
  readonly colour: PngColour;
  /** Dots per inch along each axis; left out, the file says nothing about its physical size. */
  readonly dpi?: { readonly x: number; readonly y: number };
  /** Keyword (1 to 79 Latin-1 characters) and text. */
  readonly texts?: Readonly<Record<string, string>>;
  /** A colour profile for the pixels, for RGB or for grey as these are; default: sRGB, and none for grey. */
  readonly icc?: Uint8Array;
  /** What the profile is called, 1 to 79 Latin-1 characters; default "ICC profile". */
  readonly iccName?: string;
}

/** PNG specification, section 7.1: lengths are limited to 2^31 - 1. */
export const PNG_LIMIT: number = 2 ** 31 - 1;

/** PNG specification, section 5.2. */
export const PNG_SIGNATURE: Uint8Array = Uint8Array.of(137, 80, 78, 71, 13, 10, 26, 10);

const latin1 = (text: string): boolean => /^[\t\n\r\x20-\x7e\xa0-\xff]*$/.test(text);

/** Bits a stored pixel takes. */
export function bitsPerPixel(colour: PngColour): number {
  switch (colour.kind) {
    case "rgb":
      return 24;
    case "rgba":
      return 32;
    case "grey":
      return colour.depth;
    case "palette":
      return ([1, 2, 4] as const).find((bits) => colour.entries.length <= 2 ** bits) ?? 8;
  }
}

/** Bytes a pixel takes as it is handed in. */
export function channelsOf(colour: PngColour): 1 | 3 | 4 {
  return colour.kind === "rgb" ? 3 : colour.kind === "rgba" ? 4 : 1;
}

/** Bytes a stored row takes, without its filter byte. */
export function rowBytes(header: Pick<PngHeader, "width" | "colour">): number {
  return Math.ceil((header.width * bitsPerPixel(header.colour)) / 8);
}

/** One chunk: length, name, data, checksum (PNG specification, section 5.3). */
export function pngChunk(name: string, ...parts: readonly Uint8Array[]): Uint8Array {
  const length = parts.reduce((sum, part) => sum + part.length, 0);
  const bytes = Buffer.alloc(length + 12);
  bytes.writeUInt32BE(length, 0);
  bytes.write(name, 4, "latin1");
  let at = 8;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  bytes.writeUInt32BE(crc32(bytes.subarray(4, at)), at);
  return bytes;
}

function checkHeader(header: PngHeader): void {
  for (const side of ["width", "height"] as const) checkSide("PNG", side, header[side], PNG_LIMIT);
  for (const axis of ["x", "y"] as const) {
    const dpi = header.dpi?.[axis];
    if (dpi === undefined || (dpi >= 0 && dpi <= PNG_LIMIT * 0.0254)) continue;
    throw new RepetendError("E_FORMAT", "a PNG cannot state this resolution", {
      where: `dpi.${axis}`,
      value: String(dpi),
      accepted: `dots per inch, at most ${Math.floor(PNG_LIMIT * 0.0254)}`,
    });
  }
  if (header.colour.kind === "palette") {
    const { entries } = header.colour;
    checkPaletteSize("PNG", entries);
    const bad = entries.find((entry) => !/^#(?:[0-9a-f]{6}|[0-9a-f]{8})$/i.test(entry));
    if (bad !== undefined) {
      throw new RepetendError("E_COLOUR", "a palette entry cannot be read", {
        value: bad,
        accepted: "#rrggbb or #rrggbbaa",
      });
    }
  }
}

function headerChunk(header: PngHeader): Uint8Array {
  const { colour } = header;
  const types = { grey: 0, rgb: 2, palette: 3, rgba: 6 } as const;
  const data = Buffer.alloc(13);
  data.writeUInt32BE(header.width, 0);
  data.writeUInt32BE(header.height, 4);
  data[8] = colour.kind === "rgb" || colour.kind === "rgba" ? 8 : bitsPerPixel(colour);
  data[9] = types[colour.kind];
  return pngChunk("IHDR", data);
}

function paletteChunks(entries: readonly string[]): readonly Uint8Array[] {
  const colours = entries.map((entry) => Buffer.from(entry.slice(1), "hex"));
  const palette = pngChunk("PLTE", ...colours.map((colour) => colour.subarray(0, 3)));
  const alphas = colours.map((colour) => colour[3] ?? 255);
  const count = alphas.reduce((sum, alpha, index) => (alpha < 255 ? index + 1 : sum), 0);
  return count === 0 ? [palette] : [palette, pngChunk("tRNS", Uint8Array.from(alphas.slice(0, count)))];
}

/** pHYs holds whole pixels per metre: 300 dpi is 11811 (PNG specification, section 11.3.5.3; 1 in = 0.0254 m). */
function sizeChunk(dpi: { readonly x: number; readonly y: number }): Uint8Array {
  const data = Buffer.alloc(9);
  data.writeUInt32BE(Math.round(dpi.x / 0.0254), 0);
  data.writeUInt32BE(Math.round(dpi.y / 0.0254), 4);
  data[8] = 1;
  return pngChunk("pHYs", data);
}

/** A keyword (PNG specification, section 11.3.3.2), which a profile's name is too. */
function keywordBytes(keyword: string, holds: "a text" | "a profile"): Uint8Array {
  if (!latin1(keyword) || keyword.length < 1 || keyword.length > 79 || keyword.trim() !== keyword) {
    throw new RepetendError("E_FORMAT", `a PNG cannot hold ${holds} under this keyword`, {
      value: keyword,
      accepted: "1 to 79 Latin-1 characters",
    });
  }
  return Buffer.from(keyword, "latin1");
}

function textChunk(keyword: string, text: string): Uint8Array {
  const key = keywordBytes(keyword, "a text");
  return latin1(text)
    ? pngChunk("tEXt", key, Uint8Array.of(0), Buffer.from(text, "latin1"))
    : pngChunk("iTXt", key, Uint8Array.of(0, 0, 0, 0, 0), Buffer.from(text, "utf8"));
}

/**
 * iCCP: the profile's name, a compression of 0, the profile as a zlib stream (PNG specification, section 11.3.2.3).
 * Colours take a profile for RGB, grey one for grey.
 */
function profileChunk({ colour, iccName = "ICC profile" }: PngHeader, icc: Uint8Array): Uint8Array {
  checkIcc(icc, colour.kind === "grey" ? "GRAY" : "RGB");
  const name = keywordBytes(iccName, "a profile");
  return pngChunk("iCCP", name, Uint8Array.of(0, 0), deflateSync(icc, { level: 6, memLevel: 9 }));
}

/** Which colours the levels mean: a profile, or sRGB, of which one may stand; grey levels alone are no colours. */
function spaceChunks(header: PngHeader): readonly Uint8Array[] {
  if (header.icc !== undefined) return [profileChunk(header, header.icc)];
  return header.colour.kind === "grey" ? [] : [pngChunk("sRGB", Uint8Array.of(1))];
}

/**
 * Everything in front of the pixels: signature, IHDR, iCCP or sRGB (neither for grey without a profile, whose levels
 * are no colours), PLTE, tRNS, pHYs and texts.
 *
 * @throws `RepetendError` E_SIZE, E_TOO_LARGE, E_FORMAT or E_COLOUR for what a PNG cannot hold.
 */
export function pngStart(header: PngHeader): Uint8Array {
  checkHeader(header);
  const { colour, dpi, texts = {} } = header;
  return Buffer.concat([
    PNG_SIGNATURE,
    headerChunk(header),
    ...spaceChunks(header),
    ...(colour.kind === "palette" ? paletteChunks(colour.entries) : []),
    ...(dpi === undefined ? [] : [sizeChunk(dpi)]),
    ...Object.entries(texts).map(([keyword, text]) => textChunk(keyword, text)),
  ]);
}
