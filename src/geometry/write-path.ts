import { type CubicPath, countCubics } from "./cubic-path.js";

/** A number with at most this many decimals: no exponent, no `-0`, no trailing zeros. */
function writeFixed(value: number, digits: number): string {
  const written = value.toFixed(digits);
  const short = written.includes(".") ? written.replace(/\.?0+$/, "") : written;
  return short === "-0" ? "0" : short;
}

/**
 * A path as `d`, with at most `digits` decimals a number. Cubics whose control points lie on the thirds, within half
 * of the last decimal, are written as lines, so what is written lies within one unit of the last decimal of the path.
 */
export function writePath(path: CubicPath, digits: number): string {
  const half = 0.5 * 10 ** -digits;
  const write = (x: number, y: number): string => `${writeFixed(x, digits)} ${writeFixed(y, digits)}`;
  let d = "";
  for (const subpath of path.subpaths) {
    const { points, closed } = subpath;
    const at = (index: number): number => points[index] ?? Number.NaN;
    d += `M${write(at(0), at(1))}`;
    for (let k = 0, last = countCubics(subpath); k < last; k += 1) {
      const o = 6 * k;
      const third = (axis: number): boolean => {
        const [p0, p1, p2, p3] = [at(o + axis), at(o + 2 + axis), at(o + 4 + axis), at(o + 6 + axis)];
        const step = (p3 - p0) / 3;
        return Math.abs(p1 - p0 - step) <= half && Math.abs(p3 - p2 - step) <= half;
      };
      const end = write(at(o + 6), at(o + 7));
      if (!third(0) || !third(1))
        d += `C${write(at(o + 2), at(o + 3))} ${write(at(o + 4), at(o + 5))} ${end}`;
      else if (!closed || k < last - 1) d += `L${end}`;
    }
    if (closed) d += "Z";
  }
  return d;
}
