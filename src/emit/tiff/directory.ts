import { isPredicted, type TiffHeader, tiffBits, tiffChannels } from "./format.js";
import { toRational } from "./rational.js";

/** Where the strips of a TIFF lie and how long they are, in bytes. */
export interface StripPlaces {
  readonly offsets: readonly number[];
  readonly counts: readonly number[];
}

/** Types of fields: TIFF 6.0, section 2; LONG8 is of BigTIFF. */
const TYPES = { ASCII: 2, SHORT: 3, LONG: 4, RATIONAL: 5, UNDEFINED: 7, LONG8: 16 } as const;

interface Field {
  readonly tag: number;
  readonly type: keyof typeof TYPES;
  readonly count: number;
  readonly bytes: Uint8Array;
}

function shorts(tag: number, ...values: readonly number[]): Field {
  const bytes = Buffer.alloc(values.length * 2);
  values.forEach((value, index) => {
    bytes.writeUInt16LE(value, index * 2);
  });
  return { tag, type: "SHORT", count: values.length, bytes };
}

function longs(tag: number, values: readonly number[]): Field {
  const bytes = Buffer.alloc(values.length * 4);
  values.forEach((value, index) => {
    bytes.writeUInt32LE(value, index * 4);
  });
  return { tag, type: "LONG", count: values.length, bytes };
}

function longs8(tag: number, values: readonly number[]): Field {
  const bytes = Buffer.alloc(values.length * 8);
  values.forEach((value, index) => {
    bytes.writeBigUInt64LE(BigInt(value), index * 8);
  });
  return { tag, type: "LONG8", count: values.length, bytes };
}

const rational = (tag: number, value: number): Field => ({
  ...longs(tag, toRational(value) ?? [0, 1]),
  type: "RATIONAL",
  count: 1,
});

/** A text ends on a NUL, which counts; an empty one is left out. */
function ascii(tag: number, text: string | undefined): readonly Field[] {
  if (text === undefined || text === "") return [];
  const bytes = Buffer.from(`${text}\0`, "utf8");
  return [{ tag, type: "ASCII", count: bytes.length, bytes }];
}

/**
 * All reds, all greens, all blues, in 16 bits (TIFF 6.0, section 5); 255 is 65535, so each is 257 times the byte.
 * Entries that the palette lacks are black.
 */
function colourMap(entries: readonly string[], bits: number): Field {
  const map = new Array<number>(3 * 2 ** bits).fill(0);
  entries.forEach((entry, index) => {
    [1, 3, 5].forEach((from, part) => {
      map[part * 2 ** bits + index] = 257 * Number.parseInt(entry.slice(from, from + 2), 16);
    });
  });
  return shorts(320, ...map);
}

/**
 * PhotometricInterpretation. Grey is BlackIsZero at both depths, so that a set bit is white just as a high level is;
 * readers must know both senses (TIFF 6.0, section 3).
 */
const PHOTOMETRIC = { grey: 1, rgb: 2, rgba: 2, palette: 3, cmyk: 5, lab: 8 } as const;

/** TIFF 6.0, section 3 (1 is none) and 13; Deflate: Adobe Photoshop TIFF Technical Notes, 2002. */
const COMPRESSION = { none: 1, lzw: 5, deflate: 8 } as const;

/** The fields, by rising tag as TIFF 6.0, section 2 has them; each by its name in section 8 and those after it. */
function fieldsOf(header: TiffHeader, { offsets, counts }: StripPlaces, isBig: boolean): readonly Field[] {
  const { colour, dpi, icc, texts = {} } = header;
  const channels = tiffChannels(colour);
  const bits = tiffBits(colour) / channels;
  return [
    longs(256, [header.width]), // ImageWidth
    longs(257, [header.height]), // ImageLength
    shorts(258, ...new Array<number>(channels).fill(bits)), // BitsPerSample
    shorts(259, COMPRESSION[header.compression]), // Compression
    shorts(262, PHOTOMETRIC[colour.kind]), // PhotometricInterpretation
    ...ascii(269, texts.documentName), // DocumentName
    ...ascii(270, texts.description), // ImageDescription
    isBig ? longs8(273, offsets) : longs(273, offsets), // StripOffsets
    shorts(277, channels), // SamplesPerPixel
    longs(278, [Math.min(header.rowsPerStrip, header.height)]), // RowsPerStrip
    longs(279, counts), // StripByteCounts
    rational(282, dpi?.x ?? 1), // XResolution
    rational(283, dpi?.y ?? 1), // YResolution
    shorts(284, 1), // PlanarConfiguration: the channels of a pixel together
    shorts(296, dpi === undefined ? 1 : 2), // ResolutionUnit: none, or the inch
    ...ascii(305, texts.software), // Software
    ...(isPredicted(header) ? [shorts(317, 2)] : []), // Predictor: differences along a row
    ...(colour.kind === "palette" ? [colourMap(colour.entries, bits)] : []), // ColorMap
    ...(colour.kind === "cmyk" ? [shorts(332, 1)] : []), // InkSet: CMYK (section 16)
    ...(colour.kind === "rgba" ? [shorts(338, 2)] : []), // ExtraSamples: alpha, not premultiplied (section 18)
    // The profile (ICC.1:2022, annex B.4 "TIFF").
    ...(icc === undefined ? [] : [{ tag: 34675, type: "UNDEFINED", count: icc.length, bytes: icc } as const]),
  ];
}

const roundUp = (value: number, step: number): number => Math.ceil(value / step) * step;

/** Everything in a TIFF starts at a multiple of so many bytes: a word, or what BigTIFF's offsets take. */
export const tiffAlignment = (isBig: boolean): 2 | 8 => (isBig ? 8 : 2);

/**
 * The directory of a TIFF with one picture, and the values that do not fit into it behind it.
 *
 * @param at where in the file it is going to stand, aligned.
 */
export function tiffDirectory(
  header: TiffHeader,
  places: StripPlaces,
  at: number,
  isBig: boolean,
): Uint8Array {
  const fields = fieldsOf(header, places, isBig);
  // Classic: a 16-bit count, 12 bytes a field, a 32-bit end. BigTIFF: a 64-bit count, 20 bytes a field, a 64-bit end.
  const [countBytes, fieldBytes, inline] = isBig ? [8, 20, 8] : [2, 12, 4];
  const step = tiffAlignment(isBig);
  const size = countBytes + fieldBytes * fields.length + inline;
  const fits = (field: Field): boolean => field.bytes.length <= inline;
  const behind = fields
    .filter((field) => !fits(field))
    .reduce((sum, field) => roundUp(sum, step) + field.bytes.length, size);
  const out = Buffer.alloc(behind);
  const writeOffset = (value: number, place: number): void => {
    if (isBig) out.writeBigUInt64LE(BigInt(value), place);
    else out.writeUInt32LE(value, place);
  };
  if (isBig) out.writeBigUInt64LE(BigInt(fields.length), 0);
  else out.writeUInt16LE(fields.length, 0);
  let end = size;
  fields.forEach((field, index) => {
    const place = countBytes + index * fieldBytes;
    out.writeUInt16LE(field.tag, place);
    out.writeUInt16LE(TYPES[field.type], place + 2);
    writeOffset(field.count, place + 4);
    const value = place + 4 + inline;
    if (fits(field)) {
      out.set(field.bytes, value);
      return;
    }
    end = roundUp(end, step);
    writeOffset(at + end, value);
    out.set(field.bytes, end);
    end += field.bytes.length;
  });
  return out;
}
