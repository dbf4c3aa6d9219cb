import { join, resolve } from "node:path";
import type { Colourway } from "../colour/index.js";
import {
  type PlannedFile,
  planSeparations,
  planTile,
  type TilePlan,
  type TilePlanOptions,
} from "../emit/index.js";
import { checkSeparations } from "../emit/separations/emit-separations.js";
import { type Note, RepetendError } from "../errors.js";
import { printingOrder } from "../image/index.js";
import type { Motif } from "../motif/index.js";
import { planeInks, whyNotLinear } from "../raster/index.js";
import type { Window } from "../repeat/index.js";
import { describeLayout, type Print } from "../repeat/index.js";
import type { Length } from "../units/index.js";
import { aLoadedJob, planJobOptions } from "./checks.js";
import { type PlannedGarment, planGarments } from "./garments/plan-garments.js";
import type { Job, JobSeparations } from "./job/job.js";
import { type LoadedJob, readJob } from "./job/read-job.js";
import type { JobPlan } from "./manifest.js";
import { type PlannedBoards, planBoards } from "./pages/board-files.js";
import { planSheet } from "./pages/sheet-files.js";
import { undrawnLetters } from "./pages/undrawn-letters.js";
import { buildPrint, naming, readJobColourways } from "./prints/build-print.js";
import { keysOf } from "./runs/file-keys.js";
import { keepApart } from "./runs/keep-apart.js";
import { keepInputs } from "./runs/keep-inputs.js";

/** The name under which a job's manifest stands beside its files. */
export const MANIFEST_NAME = "manifest.json";

/** How a job is planned. */
export interface PlanJobOptions {
  /** The folder of the files. Default: `out` beside the job file. */
  readonly out?: string;
  /** Refuses colourways that do not fit the print, instead of noting it. Default false. */
  readonly strict?: boolean;
  /** Adds cloth of at least this length along the warp, in whole repeats. Default: as the job has it. */
  readonly length?: Length;
  /** Adds a strike-off: this window of the cloth as printed. Default: as the job has it. */
  readonly crop?: Window;
  /** Stops the work. */
  readonly signal?: AbortSignal;
}

/** A job with everything that it names, read and worked out. */
export interface PreparedJob {
  readonly out: string;
  readonly print: Print;
  readonly colourways: readonly Colourway[];
  readonly options: TilePlanOptions;
  readonly emit: Job["emit"];
  readonly separations?: JobSeparations;
  readonly tile: TilePlan;
  readonly garments: readonly PlannedGarment[];
  readonly boards: PlannedBoards;
  readonly plan: JobPlan;
  /** Those of the plan's notes that are about other pages and do not stand on the spec sheet. */
  readonly offSheet: readonly Note[];
  /** What each planned file is made from, by its path. */
  readonly keys: ReadonlyMap<string, string>;
}

const DEFAULT_DPI = 300;

const placementsOf = (print: Print) =>
  print.kind === "border" ? print.bands.flatMap((band) => band.motifs) : print.motifs;

/** What was dropped from the motifs on reading, each motif once. */
function motifNotes(print: Print): readonly Note[] {
  const motifs = new Set<Motif>(placementsOf(print).map((one) => one.motif));
  return [...motifs].flatMap((one) =>
    one.removed.map((note) => ({ ...note, where: [one.name, note.where].filter(Boolean).join(" ") })),
  );
}

/** The same is said of each colourway of a table that names more inks than the print uses: once is enough. */
function tellOnce(notes: readonly Note[]): readonly Note[] {
  return [...new Map(notes.map((note) => [JSON.stringify(note), note])).values()];
}

/** Refuses a strike-off that lies beside the cloth: only a border has an end. */
function checkStrikeOff(input: string, print: Print, { crop, grid }: TilePlan): void {
  if (print.kind !== "border" || crop === undefined) return;
  if (crop.y < grid.tile.height && crop.y + crop.height > 0) return;
  const inMm = (pixels: number) => Number(((pixels * grid.mm.height) / grid.tile.height).toFixed(1));
  throw new RepetendError("E_SIZE", "the strike-off shows nothing of the cloth", {
    input,
    where: "crop",
    value: `${inMm(crop.y)} to ${inMm(crop.y + crop.height)} mm across the cloth`,
    accepted: `a window that meets 0 to ${inMm(grid.tile.height)} mm across the cloth`,
  });
}

/** The separations of a job; what cannot be made of the print is refused. */
function planFilms(
  { path, job }: LoadedJob,
  print: Print,
  tile: TilePlan,
  options: TilePlanOptions,
): readonly PlannedFile[] {
  const { separations } = job.emit ?? {};
  if (separations === undefined) return [];
  const [reason] = whyNotLinear(print);
  if (reason !== undefined) {
    throw new RepetendError("E_FEATURE", `the print has no separations: ${reason}`, {
      input: path,
      where: "emit.separations",
    });
  }
  naming(path, () => checkSeparations(print, { ...options, ...separations }));
  return planSeparations(print, tile, printingOrder({ inks: planeInks(print) }), separations);
}

/** Reads everything that a job names and works out its files. */
export async function prepareJob(job: string | LoadedJob, options: PlanJobOptions): Promise<PreparedJob> {
  if (typeof job !== "string") aLoadedJob(job, "job");
  planJobOptions(options, "options");
  const reading = options.signal === undefined ? {} : { signal: options.signal };
  const loaded = typeof job === "string" ? await readJob(job, reading) : job;
  const out = options.out ?? join(loaded.folder, "out");
  const print = await buildPrint(loaded, reading);
  const colourways = await readJobColourways(loaded, reading);
  const { profile, ...emit } = loaded.job.emit ?? {};
  const tileOptions = {
    dpi: DEFAULT_DPI,
    ...emit,
    ...(profile === undefined ? {} : { profile: resolve(loaded.folder, profile) }),
    ...(options.length === undefined ? {} : { length: options.length }),
    ...(options.crop === undefined ? {} : { crop: options.crop }),
    colourways,
    ...(options.strict === undefined ? {} : { strict: options.strict }),
  };
  const tile = planTile(print, tileOptions);
  checkStrikeOff(loaded.path, print, tile);
  const { separations } = loaded.job.emit ?? {};
  const films = planFilms(loaded, print, tile, tileOptions);
  const { garments, notes } = await planGarments(loaded, print, {
    colourways,
    strict: options.strict ?? false,
    ...reading,
  });
  const shown = garments.flatMap((one) => one.plan.files.map(({ file }) => file));
  const told = tellOnce([
    ...motifNotes(print),
    ...print.notes,
    ...tile.notes,
    ...garments.flatMap((one) => one.notes),
    ...notes,
  ]);
  const { scale = 1, shrinkage = {} } = tileOptions;
  const about = { print, grid: tile.grid, scale, shrinkage, colourways, notes: told };
  const sheet = naming(loaded.path, () => planSheet(about, loaded.job.emit));
  const boards = await planBoards(loaded, { print, colourways, garments, ...reading });
  const offSheet = [...boards.notes, ...undrawnLetters(loaded.job, colourways)];
  const files = [...tile.files.map(({ file }) => file), ...films, ...shown, ...sheet, ...boards.files];
  keepApart(loaded.path, files);
  keepInputs(
    loaded,
    [...files.map((file) => file.path), MANIFEST_NAME].map((name) => join(out, name)),
    [...garments.flatMap((one) => one.read.inputs), ...boards.inputs],
  );
  const isFilm = (kind: PlannedFile["kind"]) => kind === "separation" || kind === "under-base";
  const isRgba = (kind: PlannedFile["kind"]) =>
    kind === "garment" || kind === "sheet" || print.ground === undefined;
  const bytesPerPixel = ({ kind, format }: PlannedFile): number =>
    isFilm(kind) ? 1 : isRgba(kind) || (format === "tiff" && emit.space === "cmyk") ? 4 : 3;
  const plan: JobPlan = {
    print: print.name,
    layout: describeLayout(print),
    repeats: { x: true, y: print.kind === "all-over" },
    files: files.map((file) => {
      const { width, height } = file;
      if (width === undefined || height === undefined) return file;
      return { ...file, uncompressed: width * height * bytesPerPixel(file) };
    }),
    ...(garments.length > 0 ? { garments: garments.map((one) => one.report) } : {}),
    notes: [...told, ...offSheet],
  };
  return {
    out,
    print,
    colourways,
    options: tileOptions,
    emit: loaded.job.emit,
    ...(separations === undefined ? {} : { separations }),
    tile,
    garments,
    boards,
    plan,
    offSheet,
    keys: await keysOf(loaded, files, { colourways, garments, boards, options: tileOptions, ...reading }),
  };
}

/**
 * Works out what a job would write: names, pixels, sizes, notes. Reads everything the job names; writes nothing.
 *
 * @param job a path, or a job that was read.
 * @throws `RepetendError` E_READ, E_ENCODING, E_LIMIT for files; E_JOB for the job, and where two outputs would have one
 * name; what motifs, print and colourways refuse; E_TOO_LARGE; E_WRITE when an output would be written over an input.
 *
 * @example
 * ```ts
 * import { planJob } from "repetend/batch";
 * const plan = await planJob("examples/saltmarsh/border.job.json");
 * plan.layout; // "border"
 * plan.repeats; // { x: true, y: false }
 * ```
 */
export async function planJob(job: string | LoadedJob, options: PlanJobOptions = {}): Promise<JobPlan> {
  return (await prepareJob(job, options)).plan;
}
