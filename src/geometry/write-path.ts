import type { CubicPath } from "./cubic-path.js";

/** Signs of ASCII that paths are made of. */
const SIGN = { minus: 45, point: 46, zero: 48, space: 32, move: 77, line: 76, curve: 67, close: 90 } as const;

const ASCII = new TextDecoder();

/** Larger than this, in units of the last decimal, a number is left to the engine. */
const MOST_UNITS = 2 ** 51;

/** Bytes that a number takes at most with a separator, decimals left out: 21 digits and a sign. */
const WIDEST = 26;

/**
 * A path as `d`, with at most `digits` (0 to 20) decimals a number: no exponent, no `-0`, no trailing zeros. Cubics
 * whose control points lie on the thirds, within half of the last decimal, are written as lines, so what is written
 * lies within one unit of the last decimal of the path.
 */
export function writePath(path: CubicPath, digits: number): string {
  const half = 0.5 * 10 ** -digits;
  const numbers = path.subpaths.reduce((sum, { points }) => sum + points.length, 0);
  // Written as bytes and made into one string at the end: a string a number would be most of the work.
  const text: Text = { bytes: new Uint8Array(numbers * (WIDEST + digits) + 8), digits, length: 0 };
  for (const { points, closed } of path.subpaths) {
    writePoint(text, SIGN.move, points, 0);
    const last = Math.max(0, Math.floor((points.length - 2) / 6));
    for (let k = 0; k < last; k += 1) {
      const at = 6 * k;
      if (!isOnThirds(points, at, half) || !isOnThirds(points, at + 1, half)) {
        writePoint(text, SIGN.curve, points, at + 2);
        writePoint(text, SIGN.space, points, at + 4);
        writePoint(text, SIGN.space, points, at + 6);
      } else if (!closed || k < last - 1) writePoint(text, SIGN.line, points, at + 6);
    }
    if (closed) text.bytes[text.length++] = SIGN.close;
  }
  return ASCII.decode(text.bytes.subarray(0, text.length));
}

interface Text {
  readonly bytes: Uint8Array;
  readonly digits: number;
  length: number;
}

/** Whether the control points of one axis of a cubic are those of a straight line. */
function isOnThirds(points: readonly number[], at: number, half: number): boolean {
  const p0 = points[at] ?? Number.NaN;
  const p3 = points[at + 6] ?? Number.NaN;
  const step = (p3 - p0) / 3;
  return (
    Math.abs((points[at + 2] ?? Number.NaN) - p0 - step) <= half &&
    Math.abs(p3 - (points[at + 4] ?? Number.NaN) - step) <= half
  );
}

function writePoint(text: Text, sign: number, points: readonly number[], at: number): void {
  text.bytes[text.length++] = sign;
  writeFixed(text, points[at] ?? Number.NaN);
  text.bytes[text.length++] = SIGN.space;
  writeFixed(text, points[at + 1] ?? Number.NaN);
}

function writeFixed(text: Text, value: number): void {
  const { bytes, digits } = text;
  const units = Math.round(Math.abs(value) * 10 ** digits);
  if (!(units < MOST_UNITS)) {
    writeLong(text, value);
    return;
  }
  if (value < 0 && units > 0) bytes[text.length++] = SIGN.minus;
  let rest = units;
  let decimals = digits;
  while (decimals > 0 && rest % 10 === 0) {
    rest /= 10;
    decimals -= 1;
  }
  // From the last sign to the first.
  let count = Math.max(decimals + 1, countDigits(rest));
  if (decimals > 0) count += 1;
  for (let k = 1; k <= count; k += 1) {
    const place = text.length + count - k;
    if (decimals > 0 && k === decimals + 1) {
      bytes[place] = SIGN.point;
      continue;
    }
    const next = Math.floor(rest / 10);
    bytes[place] = SIGN.zero + (rest - 10 * next);
    rest = next;
  }
  text.length += count;
}

function countDigits(whole: number): number {
  let count = 1;
  for (let most = 10; most <= whole; most *= 10) count += 1;
  return count;
}

function writeLong(text: Text, value: number): void {
  const written = value.toFixed(text.digits);
  const short = written.includes(".") ? written.replace(/\.?0+$/, "") : written;
  for (let k = 0; k < short.length; k += 1) text.bytes[text.length++] = short.charCodeAt(k);
}
