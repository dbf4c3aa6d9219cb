export { estimateJob } from "./estimate-job.js";
export type { GarmentReport, PanelReport } from "./garments/garment-report.js";
export type { JobBoard, JobHead, JobLineSheet } from "./job/board-job.js";
export { findNearest, suggest } from "./job/did-you-mean.js";
export type { JobCut, JobGarment, JobPanel, JobPiece } from "./job/garment-job.js";
export type {
  Job,
  JobBand,
  JobBorder,
  JobCell,
  JobEmit,
  JobLength,
  JobMotif,
  JobPrint,
  JobSeparations,
  JobWindow,
} from "./job/job.js";
export { type JsonSchema, jobJsonSchema } from "./job/json-schema.js";
export { type ReadOptions, readBytes, readText } from "./job/read-file.js";
export { type LoadedJob, parseJob, readJob } from "./job/read-job.js";
export type { JobBandToss, JobToss, JobTossMotif } from "./job/toss-job.js";
export { type JobProgress, type MakeJobOptions, makeJob } from "./make-job.js";
export type { JobPlan, Manifest, PrintCoverage, TileSeams } from "./manifest.js";
export { MANIFEST_NAME, type PlanJobOptions, planJob } from "./plan-job.js";
export { buildPrint, inputsOf, readJobColourways, readMotif } from "./prints/build-print.js";
export {
  type CheckedPrint,
  checkPrintPicture,
  checkPrintSeams,
  type PrintSeamsOptions,
} from "./prints/print-seams.js";
export { BandQueue, type BandQueueOptions } from "./queue/band-queue.js";
export { type ServeBandsOptions, type ServedTask, serveBands } from "./queue/serve-bands.js";
export type { LeftBehind } from "./runs/left-behind.js";
export { clearStrays } from "./runs/strays.js";
export { readVersion } from "./version.js";
