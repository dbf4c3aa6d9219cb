export { BandQueue, type BandQueueOptions } from "./band-queue.js";
export type { JobBoard, JobHead, JobLineSheet } from "./board-job.js";
export { buildPrint, inputsOf, readJobColourways, readMotif } from "./build-print.js";
export { findNearest, suggest } from "./did-you-mean.js";
export { estimateJob } from "./estimate-job.js";
export type { JobCut, JobGarment, JobPanel, JobPiece } from "./garment-job.js";
export type { GarmentReport, PanelReport } from "./garment-report.js";
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
} from "./job.js";
export { type JsonSchema, jobJsonSchema } from "./json-schema.js";
export { type JobProgress, type MakeJobOptions, makeJob } from "./make-job.js";
export type { JobPlan, Manifest, PrintCoverage, TileSeams } from "./manifest.js";
export { MANIFEST_NAME, type PlanJobOptions, planJob } from "./plan-job.js";
export {
  type CheckedPrint,
  checkPrintPicture,
  checkPrintSeams,
  type PrintSeamsOptions,
} from "./print-seams.js";
export { type ReadOptions, readBytes, readText } from "./read-file.js";
export { type LoadedJob, parseJob, readJob } from "./read-job.js";
export { type ServeBandsOptions, type ServedTask, serveBands } from "./serve-bands.js";
export { clearStrays } from "./strays.js";
export type { JobBandToss, JobToss, JobTossMotif } from "./toss-job.js";
export { readVersion } from "./version.js";
