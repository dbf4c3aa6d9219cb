import { readJpegHeader } from "./jpeg-header.js";

/** What the header of a raster picture says. */
export interface PictureHeader {
  readonly type: "image/png" | "image/jpeg" | "image/gif";
  readonly width: number;
  readonly height: number;
  /** Why the renderers would not draw it as it is meant; they say nothing and leave it out. */
  readonly fault?: string;
}

/** Reads the size of a PNG, JPEG or GIF picture from its first bytes, without decoding it. */
export function readPictureHeader(bytes: Uint8Array): PictureHeader | undefined {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const word = (from: number, to: number) => String.fromCharCode(...bytes.subarray(from, to));
  try {
    // PNG specification, section 11.2.2: IHDR comes first.
    if (word(1, 4) === "PNG" && word(12, 16) === "IHDR") {
      const size = { width: view.getUint32(16), height: view.getUint32(20) };
      return { type: "image/png", ...size, ...(isWholePng(view) ? {} : { fault: "it is cut off" }) };
    }
    // GIF89a specification, section 18.
    if (word(0, 4) === "GIF8") {
      return { type: "image/gif", width: view.getUint16(6, true), height: view.getUint16(8, true) };
    }
    if (bytes[0] === 0xff && bytes[1] === 0xd8) return readJpeg(view);
  } catch (error) {
    // A header that ends too early.
    if (error instanceof RangeError) return undefined;
    throw error;
  }
  return undefined;
}

/** PNG specification, sections 5.3 and 11.2.5: chunks follow each other until IEND. */
function isWholePng(view: DataView): boolean {
  const end = 0x49454e44;
  for (let at = 8; at + 12 <= view.byteLength; at += 12 + view.getUint32(at)) {
    if (view.getUint32(at + 4) === end) return true;
  }
  return false;
}

function readJpeg(view: DataView): PictureHeader | undefined {
  const header = readJpegHeader(view);
  if (header === undefined) return undefined;
  const { width, height, components, bits, orientation } = header;
  const faults = [
    ...(components === 1 || components === 3 ? [] : ["it is CMYK"]),
    ...(bits === 8 ? [] : [`it has ${bits} bits a channel`]),
    ...(orientation === 1 ? [] : ["it is turned by its metadata"]),
  ];
  return { type: "image/jpeg", width, height, ...(faults[0] === undefined ? {} : { fault: faults[0] }) };
}
