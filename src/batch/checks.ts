import {
  aFlag,
  aFunction,
  aNumber,
  anObject,
  aSignal,
  aText,
  type Check,
  check,
  maybe,
  partsOf,
} from "../checks.js";
import type { Job } from "./job/job.js";
import type { ReadOptions } from "./job/read-file.js";
import type { LoadedJob } from "./job/read-job.js";
import type { MakeJobOptions } from "./make-job.js";
import type { PlanJobOptions } from "./plan-job.js";
import type { PrintSeamsOptions } from "./prints/print-seams.js";
import type { BandQueueOptions } from "./queue/band-queue.js";
import type { ServeBandsOptions } from "./queue/serve-bands.js";

/** A job is held against its schema where it is read; here only what was not read at all is refused. */
export const aLoadedJob: Check = partsOf<LoadedJob>({
  path: aText,
  folder: aText,
  job: partsOf<Job>({ print: anObject }),
});

export const readOptions: Check = partsOf<ReadOptions>({ signal: maybe(aSignal) });

const PLAN_PARTS = {
  out: maybe(aText),
  strict: maybe(aFlag),
  crop: maybe(anObject),
  signal: maybe(aSignal),
};

export const planJobOptions: Check = partsOf<PlanJobOptions>(PLAN_PARTS);

const aCount: Check = check(
  (value) => Number.isSafeInteger(value) && Number(value) >= 0,
  "a whole number, 0 or more",
  "E_NUMBER",
);

export const makeJobOptions: Check = partsOf<MakeJobOptions>({
  ...PLAN_PARTS,
  engine: maybe(aFunction),
  workers: maybe(aCount),
  memory: maybe(aNumber),
  queue: maybe(aText),
  again: maybe(aFlag),
  onProgress: maybe(aFunction),
});

export const printSeamsOptions: Check = partsOf<PrintSeamsOptions>({
  engine: maybe(aFunction),
  signal: maybe(aSignal),
});

const seconds: Check = check(
  (value) => Number.isFinite(value) && Number(value) > 0,
  "a number of seconds above 0",
  "E_NUMBER",
);

export const bandQueueOptions: Check = partsOf<BandQueueOptions>({ patience: maybe(seconds) });

export const serveBandsOptions: Check = partsOf<ServeBandsOptions>({
  patience: maybe(seconds),
  onReady: maybe(aFunction),
  onTask: maybe(aFunction),
});
