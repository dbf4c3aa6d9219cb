export { type CheckLiningOptions, type CheckPrintLiningOptions, checkLining } from "./check-lining.js";
export {
  type CheckDrawingOptions,
  type CheckSeamsOptions,
  checkDrawnSeams,
  checkSeams,
} from "./check-seams.js";
export { describeSeams } from "./describe.js";
export { type DrawSeamsOptions, drawSeams, pictureSeams } from "./draw-seams.js";
export { type FindRepeatOptions, findRepeat } from "./find-repeat.js";
export { findUnmatched, type UnmatchedShape } from "./find-unmatched.js";
export { holdAgainstField } from "./hold-against-field.js";
export { drawLining } from "./lining-map.js";
export type { LiningCause, LiningReport, LiningStripe } from "./lining-types.js";
export type { RepeatCandidate, RepeatEstimate } from "./repeat-estimate.js";
export type { Shift } from "./repeat-lattice.js";
export type { FoundLayout, RepeatReading } from "./repeat-layout.js";
export { rollPicture } from "./rolled-tile.js";
export type { StatedRepeat, StatedSide } from "./stated.js";
export type {
  EdgePair,
  EdgeReport,
  FaultKind,
  SeamLayout,
  SeamReport,
  SeamRun,
  SeamShift,
  Stretch,
} from "./types.js";
