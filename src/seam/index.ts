export {
  type CheckDrawingOptions,
  type CheckSeamsOptions,
  checkDrawnSeams,
  checkSeams,
} from "./check-seams.js";
export type { RepeatCandidate, RepeatEstimate } from "./find-repeat/estimate.js";
export { type FindRepeatOptions, findRepeat } from "./find-repeat/find-repeat.js";
export type { Shift } from "./find-repeat/lattice.js";
export type { FoundLayout, RepeatReading } from "./find-repeat/layout.js";
export { holdAgainstField } from "./hold-against-field.js";
export { type CheckLiningOptions, type CheckPrintLiningOptions, checkLining } from "./lining/check-lining.js";
export { drawLining } from "./lining/map.js";
export type { LiningCause, LiningReport, LiningStripe } from "./lining/types.js";
export { describeSeams } from "./report/describe.js";
export { type DrawSeamsOptions, drawSeams, pictureSeams } from "./report/draw-seams.js";
export { rollPicture } from "./report/rolled-tile.js";
export { findUnmatched, type UnmatchedShape } from "./shapes/find-unmatched.js";
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
