import { anObject, aText, type Check, check, partsOf } from "../checks.js";
import type { Job } from "./job.js";
import type { LoadedJob } from "./read-job.js";

/** A job is held against its schema where it is read; here only what was not read at all is refused. */
export const aLoadedJob: Check = partsOf<LoadedJob>({
  path: aText,
  folder: aText,
  job: partsOf<Job>({ print: anObject }),
});

/** A time in seconds. */
export const checkSeconds: Check = check(
  (value) => Number.isFinite(value) && Number(value) > 0,
  "a number of seconds above 0",
  "E_NUMBER",
);
