import { curveAt, locateLength, type MeasuredCurve } from "./arc-length.js";
import { partOfCubic } from "./cubic.js";
import type { Cubic } from "./cubic-path.js";

/** The cubics of a measured curve between two lengths along it. */
export function partOfCurve(curve: MeasuredCurve, from: number, to: number): readonly Cubic[] {
  const [one, other] = [locateLength(curve, from), locateLength(curve, to)];
  const part: Cubic[] = [];
  for (let k = one.index; k <= other.index; k += 1) {
    const cubic = curve.cubics[k]?.cubic;
    const low = k === one.index ? one.t : 0;
    const high = k === other.index ? other.t : 1;
    if (cubic && high > low) part.push(partOfCubic(cubic, low, high));
  }
  if (part.length === 0) {
    const { x, y } = curveAt(curve, from);
    part.push([x, y, x, y, x, y, x, y]);
  }
  return part;
}
