export { type CheckDrawingOptions, type CheckSeamsOptions, checkSeams } from "./check-seams.js";
export { describeSeams } from "./describe.js";
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
