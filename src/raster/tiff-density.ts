import type { Density } from "./density.js";

const TAGS = { x: 282, y: 283, unit: 296 } as const;

/** Dots per inch to one of each unit of TIFF 6.0, `ResolutionUnit`; 1 stands for proportions without a size. */
const PER_INCH: Readonly<Record<number, number>> = { 2: 1, 3: 2.54 };

/** Libraries keep a resolution in single precision: what is as near as that to a whole number is meant to be it. */
const SINGLE = 1e-6;

/**
 * The resolution that a TIFF or BigTIFF states for each axis in its first directory (TIFF 6.0, section 8). Image
 * libraries give one whole number for both, which hides what a pixel solver found.
 */
export function tiffDensity(bytes: Uint8Array): Density | undefined {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  try {
    return readDensity(view);
  } catch (error) {
    // An address outside of the file.
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}

function readDensity(view: DataView): Density | undefined {
  const little = view.getUint8(0) === 0x49;
  const isBig = view.getUint16(2, little) === 43;
  const address = (at: number) =>
    isBig ? Number(view.getBigUint64(at, little)) : view.getUint32(at, little);
  const directory = address(isBig ? 8 : 4);
  const count = isBig ? Number(view.getBigUint64(directory, little)) : view.getUint16(directory, little);
  const [first, size, inside] = isBig ? [directory + 8, 20, 12] : [directory + 2, 12, 8];
  const values = new Map<number, number>();
  for (let entry = 0; entry < count; entry++) {
    const at = first + entry * size;
    const tag = view.getUint16(at, little);
    if (tag === TAGS.unit) values.set(tag, view.getUint16(at + inside, little));
    if (tag !== TAGS.x && tag !== TAGS.y) continue;
    // A rational has 8 bytes: an entry of BigTIFF has room for it, one of TIFF says where it is.
    const place = isBig ? at + inside : address(at + inside);
    values.set(tag, view.getUint32(place, little) / view.getUint32(place + 4, little));
  }
  const factor = PER_INCH[values.get(TAGS.unit) ?? 2];
  const [x, y] = [values.get(TAGS.x), values.get(TAGS.y)];
  if (factor === undefined || !isUsable(x) || !isUsable(y)) return undefined;
  return { x: nearWhole(x * factor), y: nearWhole(y * factor) };
}

const isUsable = (value: number | undefined): value is number =>
  value !== undefined && value > 0 && Number.isFinite(value);

function nearWhole(dpi: number): number {
  const whole = Math.round(dpi);
  return Math.abs(dpi - whole) <= SINGLE * dpi ? whole : dpi;
}
