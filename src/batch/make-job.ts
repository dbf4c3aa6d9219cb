import { readFile } from "node:fs/promises";
import { join } from "node:path";
import {
  AS_DRAWN,
  type BandMaker,
  BandPool,
  emitSeparations,
  type ManifestFile,
  type TileProgress,
  writeAtomically,
  writeTile,
} from "../emit/index.js";
import { checkSeparations } from "../emit/separations/emit-separations.js";
import type { Note } from "../errors.js";
import { checkContacts } from "../image/index.js";
import type { Engine } from "../raster/index.js";
import { recolour } from "../repeat/index.js";
import { makeJobOptions } from "./checks.js";
import { dressGarments, writeGarments } from "./garments/make-garments.js";
import type { LoadedJob } from "./job/read-job.js";
import type { JobPlan, Manifest, TileSeams } from "./manifest.js";
import { writeSheet } from "./pages/sheet-files.js";
import { MANIFEST_NAME, type PlanJobOptions, type PreparedJob, prepareJob } from "./plan-job.js";
import { measureInks } from "./prints/print-coverage.js";
import { checkPrintSeams } from "./prints/print-seams.js";
import { BandQueue } from "./queue/band-queue.js";
import { checkRoom } from "./runs/disk-room.js";
import { type FinishedFile, findFinished, forgetFinished, keyOf, noteFinished } from "./runs/finished.js";
import { findLeftBehind, type LeftBehind } from "./runs/left-behind.js";
import { clearStrays } from "./runs/strays.js";

/** How far a job is. */
export type JobProgress =
  | { readonly kind: "planned"; readonly plan: JobPlan }
  | ({ readonly kind: "rows" } & TileProgress)
  | { readonly kind: "file"; readonly file: ManifestFile }
  /** A file of an earlier run that is still what would be made. */
  | { readonly kind: "kept"; readonly file: ManifestFile }
  /** Files of the folder's last manifest that this job does not make: they stay, and no manifest names them any more. */
  | ({ readonly kind: "left" } & LeftBehind)
  | { readonly kind: "seams"; readonly colourway: string; readonly ok: boolean };

/** How a job is made. */
export interface MakeJobOptions extends PlanJobOptions {
  /** Draws in this process. Default: the native engine, in processes of its own where there is much to draw. */
  readonly engine?: Engine;
  /** How many processes draw; 0 for none but this one. Default: as many as there are cores, for large jobs. */
  readonly workers?: number;
  /** For all processes together, in bytes: bounds how many there are. Default: no limit. */
  readonly memory?: number;
  /** A Redis server, `redis://host:6379`: the machines that serve there draw, see `serveBands`. Default: none. */
  readonly queue?: string;
  /** Makes everything, whatever stands in the folder already. Default false. */
  readonly again?: boolean;
  /** Called as the work goes on. */
  readonly onProgress?: (progress: JobProgress) => void;
  /** Stops the work and removes what is unfinished; its reason is thrown. */
  readonly signal?: AbortSignal;
}

/** Jobs of fewer pixels in all are drawn in this process: starting others would take longer. */
const MANY_PIXELS = 2 ** 23;

/** What draws for a job. */
interface Drawing {
  readonly maker: BandMaker & { readonly close: () => Promise<void> };
  /** Renders what is not in bands: seams, garments. */
  readonly render?: Engine;
}

/** Other machines, or processes of this one, where they are worth it. */
async function openDrawing(
  plan: JobPlan,
  { engine, workers, memory, queue, signal }: MakeJobOptions,
): Promise<Drawing | undefined> {
  if (queue !== undefined) {
    return { maker: await BandQueue.open(queue, signal === undefined ? {} : { signal }) };
  }
  if (engine !== undefined || workers === 0) return undefined;
  const pixels = plan.files.reduce((sum, { width = 0, height = 0 }) => sum + width * height, 0);
  if (workers === undefined && memory === undefined && pixels < MANY_PIXELS) return undefined;
  const maker = new BandPool({
    ...(workers === undefined ? {} : { workers }),
    ...(memory === undefined ? {} : { memory }),
  });
  return { maker, render: maker.render };
}

/** The manifest of a run that made just this, where all its files are still there. */
async function readDone(
  { out, plan }: PreparedJob,
  key: string,
  finished: readonly FinishedFile[],
): Promise<Manifest | undefined> {
  if (finished.length < plan.files.length) return undefined;
  try {
    const manifest = JSON.parse(await readFile(join(out, MANIFEST_NAME), "utf8")) as Manifest;
    return manifest.key === key ? manifest : undefined;
  } catch {
    return undefined;
  }
}

/** Checks the tile in every colourway. */
async function checkSeams(
  { print, colourways, options: { dpi } }: PreparedJob,
  running: { readonly engine?: Engine; readonly signal?: AbortSignal },
  onProgress: MakeJobOptions["onProgress"],
): Promise<readonly TileSeams[]> {
  const seams: TileSeams[] = [];
  for (const colourway of colourways.length > 0 ? colourways : [AS_DRAWN]) {
    const checked = { ...running, dpi: typeof dpi === "number" ? dpi : Math.min(dpi.x, dpi.y) };
    const report = await checkPrintSeams(recolour(print, colourway), checked);
    seams.push({ colourway: colourway.name, report });
    onProgress?.({ kind: "seams", colourway: colourway.name, ok: report.ok });
  }
  return seams;
}

/** Makes what is not finished, and the manifest. */
async function makeFiles(
  prepared: PreparedJob,
  key: string,
  finished: readonly FinishedFile[],
  drawing: Drawing | undefined,
  options: MakeJobOptions,
): Promise<Manifest> {
  const { out, print, colourways, options: tileOptions, separations, tile, plan, keys } = prepared;
  const { signal, onProgress } = options;
  const engine = drawing?.render ?? options.engine;
  const running = {
    ...(engine === undefined ? {} : { engine }),
    ...(signal === undefined ? {} : { signal }),
  };
  const madeFrom = new Map(finished.map(({ file, ...made }) => [file.path, made]));
  const journal: Promise<void>[] = [];
  const writing = {
    ...running,
    ...(drawing === undefined ? {} : { maker: drawing.maker }),
    dir: out,
    finished: finished.map(({ file }) => file),
    onProgress: (progress: TileProgress) => onProgress?.({ kind: "rows", ...progress }),
    onFile: (file: ManifestFile, notes: readonly Note[] = []) => {
      const from = { key: keys.get(file.path) ?? "", notes };
      madeFrom.set(file.path, from);
      journal.push(noteFinished(out, { file, ...from }));
      onProgress?.({ kind: "file", file });
    },
  };
  const garments = dressGarments(prepared.garments, print);
  const films = separations === undefined ? undefined : { ...tileOptions, ...separations, ...writing };
  if (films !== undefined) checkSeparations(print, films);
  const emitted = await writeTile(tile, { ...tileOptions, ...writing });
  const separated = films === undefined ? undefined : await emitSeparations(print, films);
  const shown = await writeGarments(garments, writing);
  const seams = await checkSeams(prepared, running, onProgress);
  const measures = await measureInks(print, tile.grid, running);
  const [first = AS_DRAWN] = colourways;
  const touching = colourways.flatMap((colourway) =>
    measures === undefined ? [] : checkContacts(measures.contacts, colourway, { first }),
  );
  const made = [...emitted.files, ...(separated?.files ?? []), ...shown];
  // What was said of a file when it was made holds as long as it stands, and is said once.
  const said = [...made.flatMap(({ path }) => madeFrom.get(path)?.notes ?? []), ...(separated?.notes ?? [])];
  const late = said.filter((note, at) => said.findIndex((one) => one.message === note.message) === at);
  const findings = [...late, ...touching, ...garments.flatMap((one) => one.notes)];
  const notes = [...plan.notes, ...findings];
  const { scale = 1, shrinkage = {} } = tileOptions;
  const coverage = measures?.coverage ?? [];
  const ofSheet = plan.notes.filter((note) => !prepared.offSheet.includes(note));
  const known = { print, grid: tile.grid, scale, shrinkage, colourways, notes: ofSheet };
  const about = { ...known, coverage, seams, findings };
  const sheet = await writeSheet(out, prepared.emit, about, writing);
  const worn = { out, dressed: garments.map((one) => one.dressed), coverage: measures?.coverage };
  const files = [...made, ...sheet, ...(await prepared.boards.write(worn, writing))];
  const manifest: Manifest = {
    ...plan,
    key,
    files,
    madeFrom: Object.fromEntries(
      files.map(({ path }) => [path, madeFrom.get(path) ?? { key: "", notes: [] }]),
    ),
    seams,
    ...(garments.length > 0 ? { garments: garments.map((one) => one.report) } : {}),
    coverage,
    notes,
  };
  await Promise.all(journal);
  signal?.throwIfAborted();
  await writeAtomically(join(out, MANIFEST_NAME), (sink) =>
    sink.write(`${JSON.stringify(manifest, null, 2)}\n`),
  );
  await forgetFinished(out);
  return manifest;
}

/**
 * Makes a job: writes its files, checks the seams of every tile, and writes `manifest.json` last. What dead runs left in
 * the folder is cleared first, and files that stand there whole, made from the same inputs by the same version, are kept:
 * a run that was stopped at any moment goes on where it was, and ends with the same bytes.
 *
 * @param job a path, or a job that was read.
 * @returns what stands in the manifest; paths are relative to the folder.
 * @throws `RepetendError` as {@link planJob}; E_RENDER when the renderer fails; E_WRITE when a file cannot be
 * written; E_NUMBER for processes and memory out of range; E_QUEUE for a queue that nobody serves. The signal's reason
 * when it stops the work. What is refused before anything is drawn leaves nothing behind, not even the folder.
 *
 * @example
 * ```ts
 * import { makeJob, readJob } from "repetend/batch";
 * import { mkdtempSync } from "node:fs";
 * import { tmpdir } from "node:os";
 * import { join } from "node:path";
 * const loaded = await readJob("examples/saltmarsh/brick.job.json");
 * const small = { ...loaded, job: { ...loaded.job, emit: { dpi: 20 } } };
 * const manifest = await makeJob(small, { out: mkdtempSync(join(tmpdir(), "out-")) });
 * manifest.files[1]?.path; // "saltmarsh-brick--low-tide.png"
 * manifest.seams[0]?.report.ok; // true
 * ```
 */
export async function makeJob(job: string | LoadedJob, options: MakeJobOptions = {}): Promise<Manifest> {
  makeJobOptions(options, "options");
  const { onProgress, again = false } = options;
  const prepared = await prepareJob(job, options);
  const { out, plan, keys } = prepared;
  onProgress?.({ kind: "planned", plan });
  await clearStrays(out);
  const planned = plan.files.map((file) => ({ file, key: keys.get(file.path) ?? "" }));
  const finished = again ? [] : await findFinished(out, MANIFEST_NAME, planned);
  for (const { file } of finished) onProgress?.({ kind: "kept", file });
  const left = await findLeftBehind(out, MANIFEST_NAME, plan.files);
  if (left !== undefined) onProgress?.({ kind: "left", ...left });
  const key = keyOf(plan, [...keys]);
  const done = await readDone(prepared, key, finished);
  if (done !== undefined) {
    await forgetFinished(out);
    return done;
  }
  await checkRoom(out, plan, finished, prepared.options);
  const drawing = await openDrawing(plan, options);
  try {
    return await makeFiles(prepared, key, finished, drawing, options);
  } finally {
    await drawing?.maker.close();
  }
}
