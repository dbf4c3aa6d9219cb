import { aFunction, anObject, aText, type Check, check, maybe, partsOf } from "../checks.js";
import type { BandQueueOptions } from "./band-queue.js";
import type { Job } from "./job.js";
import type { LoadedJob } from "./read-job.js";
import type { ServeBandsOptions } from "./serve-bands.js";

/** A job is held against its schema where it is read; here only what was not read at all is refused. */
export const aLoadedJob: Check = partsOf<LoadedJob>({
  path: aText,
  folder: aText,
  job: partsOf<Job>({ print: anObject }),
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
