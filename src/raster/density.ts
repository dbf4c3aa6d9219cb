/** Dots per inch along each axis. */
export interface Density {
  readonly x: number;
  readonly y: number;
}

const SIGNATURE_LENGTH = 8;

/**
 * The resolution that a PNG states for each axis in its pHYs chunk (PNG specification, section 11.3.5.3), where it is
 * given per metre. Image libraries round it to one whole number of dpi, which hides what a pixel solver found.
 */
export function pngDensity(bytes: Uint8Array): Density | undefined {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = SIGNATURE_LENGTH;
  while (at + 12 <= bytes.length) {
    const length = view.getUint32(at);
    const name = String.fromCharCode(...bytes.subarray(at + 4, at + 8));
    if (name === "IDAT") return undefined;
    if (name === "pHYs" && length === 9 && at + 21 <= bytes.length) {
      const [x, y, unit] = [view.getUint32(at + 8), view.getUint32(at + 12), view.getUint8(at + 16)];
      return unit === 1 && x > 0 && y > 0 ? { x: nearDpi(x), y: nearDpi(y) } : undefined;
    }
    at += 12 + length;
  }
  return undefined;
}

/** Pixels per metre are whole numbers: 11811 is how 300 dpi is written, so it is read as 300 again. */
function nearDpi(perMetre: number): number {
  const dpi = perMetre * 0.0254;
  const whole = Math.round(dpi);
  return whole > 0 && Math.round(whole / 0.0254) === perMetre ? whole : dpi;
}
