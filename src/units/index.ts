export { type Length, type LengthLimits, MM_PER_UNIT, mm, readLength } from "./length.js";
