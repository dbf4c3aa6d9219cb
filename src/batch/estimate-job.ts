import { availableParallelism } from "node:os";
import { estimateTile, type TileEstimate } from "../emit/index.js";
import { makeJobOptions } from "./checks.js";
import type { LoadedJob } from "./job/read-job.js";
import type { MakeJobOptions } from "./make-job.js";
import { prepareJob } from "./plan-job.js";

/**
 * Estimates how long the tiles and the yardage of a job take and how large they become, from drawing one band of each.
 * Separations, garments and checks are not counted.
 *
 * @param job a path, or a job that was read.
 * @throws `RepetendError` as `planJob`; E_RENDER when the renderer fails.
 *
 * @example
 * ```ts
 * import { estimateJob, readJob } from "repetend/batch";
 * const loaded = await readJob("examples/saltmarsh/brick.job.json");
 * const small = { ...loaded, job: { ...loaded.job, emit: { dpi: 20 } } };
 * const { seconds, bytes } = await estimateJob(small);
 * seconds > 0 && bytes > 100; // true
 * ```
 */
export async function estimateJob(
  job: string | LoadedJob,
  options: MakeJobOptions = {},
): Promise<TileEstimate> {
  makeJobOptions(options, "options");
  const prepared = await prepareJob(job, options);
  const { workers = availableParallelism() } = options;
  return estimateTile(prepared.tile, prepared.options, Math.max(1, workers));
}
