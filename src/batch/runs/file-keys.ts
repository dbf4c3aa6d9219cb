import { createHash } from "node:crypto";
import { relative } from "node:path";
import type { Colourway } from "../../colour/index.js";
import type { PlannedFile, TilePlanOptions } from "../../emit/index.js";
import type { PlannedGarment } from "../garments/plan-garments.js";
import { readBytes } from "../job/read-file.js";
import type { LoadedJob } from "../job/read-job.js";
import type { PlannedBoards } from "../pages/board-files.js";
import { inputsOf } from "../prints/build-print.js";
import { readVersions } from "../version.js";
import { keyOf } from "./finished.js";

/** Far above any input that a job may read. */
const INPUT_LIMIT = 2 ** 30;

/** Each file by its name as seen from the job, and what it holds. */
async function hashInputs(
  folder: string,
  paths: readonly string[],
  signal?: AbortSignal,
): Promise<readonly (readonly string[])[]> {
  return Promise.all(
    [...new Set(paths)].sort().map(async (path) => {
      const hash = createHash("sha256").update(await readBytes(path, INPUT_LIMIT, signal));
      return [relative(folder, path), hash.digest("hex")] as const;
    }),
  );
}

/**
 * For each planned file a key of everything that its bytes depend on: the job, the drawings, the colourway, and the versions
 * of what draws and compresses. A file whose key is the same need not be made again.
 */
export async function keysOf(
  { job, folder, ...loaded }: LoadedJob,
  files: readonly PlannedFile[],
  {
    colourways,
    garments,
    boards,
    options,
    signal,
  }: {
    readonly colourways: readonly Colourway[];
    readonly garments: readonly PlannedGarment[];
    readonly boards: PlannedBoards;
    readonly options: TilePlanOptions;
    readonly signal?: AbortSignal;
  },
): Promise<ReadonlyMap<string, string>> {
  const versions = await readVersions();
  // The table of colourways counts by what a file's own colourway says.
  const drawings = inputsOf({
    ...loaded,
    folder,
    job: { print: job.print, ...(job.emit ? { emit: job.emit } : {}) },
  });
  const inputs = await hashInputs(folder, drawings, signal);
  const worn = await hashInputs(
    folder,
    garments.flatMap((one) => one.read.inputs),
    signal,
  );
  // What else is written does not show in a file, but the number of colourways decides how it is made.
  const { dpi, scale, shrinkage, edges, compression, space } = options;
  const drawn = { dpi, scale, shrinkage, edges, compression, space };
  const base = [versions, inputs, job.print, drawn, colourways.length];
  // What only the line sheet says of garments does not change how they are drawn.
  const drawnGarments = job.garments?.map(({ number, front, cut, facts, ...drawn }) => drawn);
  const companions = await hashInputs(folder, boards.inputs, signal);
  // A spec sheet tells what was to be said of how the others were made.
  const others = files.filter(({ kind }) => kind !== "sheet");
  const more = ({ kind, path }: PlannedFile): readonly unknown[] => {
    if (kind === "garment") return [drawnGarments, worn];
    if (boards.madeFrom.has(path))
      return [colourways, drawnGarments, worn, companions, boards.madeFrom.get(path)];
    if (kind === "separation" || kind === "under-base") return [job.emit?.separations];
    return kind === "sheet" ? [colourways, drawnGarments, worn, others, job.emit?.separations] : [];
  };
  const all = new Map<string, string>();
  for (const file of files) {
    const own = colourways.find((one) => one.name === file.colourway)?.inks ?? {};
    all.set(file.path, keyOf(base, file, own, more(file)));
  }
  return all;
}
