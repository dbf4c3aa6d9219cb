import { resolve } from "node:path";
import { RepetendError } from "../../errors.js";
import type { LoadedJob } from "../job/read-job.js";
import { inputsOf } from "../prints/build-print.js";

/** The files that a job names beside those of its print, as absolute paths. */
const namedByGarments = ({ job, folder }: LoadedJob): readonly string[] =>
  (job.garments ?? [])
    .flatMap(({ sketch, colourways, panels }) => [sketch, colourways, ...panels.map(({ print }) => print)])
    .filter((name) => name !== undefined)
    .map((name) => resolve(folder, name));

/**
 * Refuses outputs that would be written over what is read.
 *
 * @param outputs the paths of the files that will be written.
 * @param inputs the paths of the files that are read.
 * @throws `RepetendError` E_WRITE with the path.
 */
export function keepFiles(outputs: readonly string[], inputs: readonly string[]): void {
  const kept = new Set(inputs.map((path) => resolve(path)));
  const clash = outputs.map((path) => resolve(path)).find((path) => kept.has(path));
  if (clash === undefined) return;
  throw new RepetendError("E_WRITE", "a file that is read would be written over", {
    input: clash,
    accepted: "another folder or name for the output",
  });
}

/**
 * Refuses outputs that would be written over what a job reads.
 *
 * @param outputs the paths of the files that will be written.
 * @param more further files that are read.
 * @throws `RepetendError` E_WRITE with the path.
 */
export function keepInputs(
  loaded: LoadedJob,
  outputs: readonly string[],
  more: readonly string[] = [],
): void {
  keepFiles(outputs, [loaded.path, ...inputsOf(loaded), ...namedByGarments(loaded), ...more]);
}
