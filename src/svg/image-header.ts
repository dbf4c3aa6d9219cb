/** What the header of a raster picture says. */
export interface PictureHeader {
  readonly type: "image/png" | "image/jpeg" | "image/gif" | "image/webp";
  readonly width: number;
  readonly height: number;
}

/** Reads the size of a PNG, JPEG, GIF or WebP picture from its first bytes, without decoding it. */
export function readPictureHeader(bytes: Uint8Array): PictureHeader | undefined {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const word = (from: number, to: number) => String.fromCharCode(...bytes.subarray(from, to));
  try {
    // PNG specification, section 11.2.2: IHDR comes first.
    if (word(1, 4) === "PNG" && word(12, 16) === "IHDR") {
      return { type: "image/png", width: view.getUint32(16), height: view.getUint32(20) };
    }
    // GIF89a specification, section 18.
    if (word(0, 4) === "GIF8") {
      return { type: "image/gif", width: view.getUint16(6, true), height: view.getUint16(8, true) };
    }
    if (word(0, 4) === "RIFF" && word(8, 12) === "WEBP") return readWebp(view, word(12, 16));
    if (bytes[0] === 0xff && bytes[1] === 0xd8) return readJpeg(view);
  } catch (error) {
    // A header that ends too early.
    if (error instanceof RangeError) return undefined;
    throw error;
  }
  return undefined;
}

/** RFC 9649, sections 2.5 to 2.7. */
function readWebp(view: DataView, chunk: string): PictureHeader | undefined {
  const type = "image/webp";
  if (chunk === "VP8X") {
    const three = (at: number) => view.getUint16(at, true) + view.getUint8(at + 2) * 65536;
    return { type, width: three(24) + 1, height: three(27) + 1 };
  }
  if (chunk === "VP8L") {
    const bits = view.getUint32(21, true);
    return { type, width: (bits & 0x3fff) + 1, height: ((bits >>> 14) & 0x3fff) + 1 };
  }
  if (chunk !== "VP8 ") return undefined;
  return { type, width: view.getUint16(26, true) & 0x3fff, height: view.getUint16(28, true) & 0x3fff };
}

/** ITU-T T.81, annex B: segments follow each other until one that starts a frame. */
function readJpeg(view: DataView): PictureHeader | undefined {
  for (let at = 2; ; ) {
    if (view.getUint8(at) !== 0xff) return undefined;
    const marker = view.getUint8(at + 1);
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    const startsFrame = marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
    if (startsFrame) {
      return { type: "image/jpeg", width: view.getUint16(at + 7), height: view.getUint16(at + 5) };
    }
    at += 2 + view.getUint16(at + 2);
  }
}
