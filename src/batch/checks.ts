import { anObject, aText, type Check, partsOf } from "../checks.js";
import type { Job } from "./job.js";
import type { LoadedJob } from "./read-job.js";

/** A job is held against its schema where it is read; here only what was not read at all is refused. */
export const aLoadedJob: Check = partsOf<LoadedJob>({
  path: aText,
  folder: aText,
  job: partsOf<Job>({ print: anObject }),
});
