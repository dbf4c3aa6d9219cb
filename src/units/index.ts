export { type Length, type LengthLimits, MM_PER_UNIT, mm, readLength, type Unit } from "./length.js";
export { type PercentLimits, readPercent } from "./percent.js";
export { pixelsPerMetre, type Resolution, readResolution } from "./resolution.js";
export {
  type ExactAxis,
  type ExactCell,
  type Neighbours,
  type PixelAxis,
  type PixelQuestion,
  type PixelSolution,
  solvePixels,
} from "./solve-pixels.js";
