/** What the segments of a JPEG before its frame say. */
export interface JpegHeader {
  readonly width: number;
  readonly height: number;
  /** 1 for grey, 3 for colour, 4 for CMYK. */
  readonly components: number;
  readonly bits: number;
  /** 1 to 8, of Exif; 1 where it says nothing: upright. */
  readonly orientation: number;
}

/**
 * ITU-T T.81, annex B: segments follow each other until one that starts a frame.
 *
 * @throws RangeError where the bytes end too early.
 */
export function readJpegHeader(view: DataView): JpegHeader | undefined {
  let orientation = 1;
  for (let at = 2; ; ) {
    if (view.getUint8(at) !== 0xff) return undefined;
    const marker = view.getUint8(at + 1);
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    const startsFrame = marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
    if (startsFrame) {
      return {
        width: view.getUint16(at + 7),
        height: view.getUint16(at + 5),
        components: view.getUint8(at + 9),
        bits: view.getUint8(at + 4),
        orientation,
      };
    }
    const length = view.getUint16(at + 2);
    if (marker === 0xe1) orientation = readOrientation(view, at + 4, at + 2 + length) ?? orientation;
    at += 2 + length;
  }
}

const EXIF = [0x45, 0x78, 0x69, 0x66, 0, 0];
const ORIENTATION = 0x0112;

/** The tag "Orientation" of the first directory: Exif 2.3, section 4.6.2; TIFF 6.0, section 2. */
function readOrientation(view: DataView, from: number, end: number): number | undefined {
  if (from + 14 > end || !EXIF.every((byte, index) => view.getUint8(from + index) === byte)) return undefined;
  const start = from + EXIF.length;
  const little = view.getUint8(start) === 0x49;
  const directory = start + view.getUint32(start + 4, little);
  if (directory + 2 > end) return undefined;
  const count = view.getUint16(directory, little);
  for (let entry = directory + 2, left = count; left > 0 && entry + 12 <= end; entry += 12, left--) {
    if (view.getUint16(entry, little) === ORIENTATION) return view.getUint16(entry + 8, little);
  }
  return undefined;
}
