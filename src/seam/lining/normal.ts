import type { Point } from "../../geometry/index.js";

/** The unit vector across stripes of an angle in degrees: to the right, or straight down for level ones. */
export function acrossStripes(angle: number): Point {
  if (angle === 0) return { x: 0, y: 1 };
  const turn = ((angle - 90) * Math.PI) / 180;
  return { x: Math.cos(turn), y: Math.sin(turn) };
}
