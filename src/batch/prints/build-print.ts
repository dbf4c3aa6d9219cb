import { basename, extname, resolve } from "node:path";
import { type Colourway, readColourways } from "../../colour/index.js";
import { nameInput, RepetendError, renameInput } from "../../errors.js";
import { type Motif, motif } from "../../motif/index.js";
import type { Print } from "../../repeat/index.js";
import { aLoadedJob, readOptions } from "../checks.js";
import type { JobPrint } from "../job/job.js";
import { type ReadOptions, readBytes, readText } from "../job/read-file.js";
import type { LoadedJob } from "../job/read-job.js";
import { makePrint } from "./make-print.js";
import { tossedFiles } from "./toss-print.js";

/** A drawing may be as large as the guard of the svg room lets in. */
const DRAWING_LIMIT = 10 * 2 ** 20;

/** Far above any table of colourways. */
const TABLE_LIMIT = 4 * 2 ** 20;

/** Runs a step whose errors do not know their input yet. */
export function naming<T>(input: string, step: () => T): T {
  try {
    return step();
  } catch (error) {
    throw nameInput(error, input);
  }
}

/** Runs a step that reads a drawing, whose errors know it by its own name only: they get the path of its file. */
export function namingFile<T>(path: string, step: () => T): T {
  try {
    return step();
  } catch (error) {
    throw renameInput(error, path);
  }
}

/** The drawings that a print names, by hand first. */
function drawingsOf(print: JobPrint): readonly string[] {
  const placed = print.layout === "border" ? print.bands.flatMap((band) => band.motifs ?? []) : print.motifs;
  return [...placed.map((one) => one.file), ...tossedFiles(print)];
}

/**
 * The files that a job's print reads, as absolute paths, each once: its motifs, then its table of colourways and its colour
 * profile.
 */
export function inputsOf(loaded: LoadedJob): readonly string[] {
  aLoadedJob(loaded, "loaded");
  const { job, folder } = loaded;
  const names = [
    ...drawingsOf(job.print),
    ...(job.colourways === undefined ? [] : [job.colourways]),
    ...(job.emit?.profile === undefined ? [] : [job.emit.profile]),
  ];
  return [...new Set(names.map((name) => resolve(folder, name)))];
}

/** Reads the bytes of a drawing, not text: what is no UTF-8 is refused where drawings are read. */
export function readDrawingBytes(path: string, signal?: AbortSignal): Promise<Uint8Array> {
  return readBytes(path, DRAWING_LIMIT, signal);
}

/**
 * Reads one drawing as a motif named after its file.
 *
 * @throws `RepetendError` E_READ, E_LIMIT for the file; what `motif` throws for the drawing.
 */
export async function readMotif(path: string, options: ReadOptions = {}): Promise<Motif> {
  readOptions(options, "options");
  const bytes = await readDrawingBytes(path, options.signal);
  return namingFile(path, () => motif(bytes, { name: basename(path, extname(path)) }));
}

async function readMotifs(
  { job, folder }: LoadedJob,
  options: ReadOptions,
): Promise<ReadonlyMap<string, Motif>> {
  const motifs = new Map<string, Motif>();
  for (const file of drawingsOf(job.print)) {
    const path = resolve(folder, file);
    if (!motifs.has(path)) motifs.set(path, await readMotif(path, options));
  }
  return motifs;
}

/**
 * Builds the print of a job: reads its drawings, each once, and places them.
 *
 * @throws `RepetendError` E_READ, E_ENCODING, E_LIMIT for a file; what `motif` and the print's maker throw, with
 * the file's name.
 *
 * @example
 * ```ts
 * import { buildPrint, readJob } from "repetend/batch";
 * const print = await buildPrint(await readJob("examples/saltmarsh/border.job.json"));
 * print.kind; // "border"
 * ```
 */
export async function buildPrint(loaded: LoadedJob, options: ReadOptions = {}): Promise<Print> {
  aLoadedJob(loaded, "loaded");
  readOptions(options, "options");
  const motifs = await readMotifs(loaded, options);
  const find = (file: string): Motif => {
    const drawing = motifs.get(resolve(loaded.folder, file));
    if (drawing === undefined) throw new RepetendError("E_READ", "a motif was not read", { input: file });
    return drawing;
  };
  return naming(loaded.path, () => makePrint(loaded.job.print, find));
}

/**
 * Reads the colourways of a job; none when it names no table.
 *
 * @throws `RepetendError` E_READ, E_ENCODING, E_LIMIT for the file; E_COLOURWAY, E_COLOUR for the table.
 */
export async function readJobColourways(
  loaded: LoadedJob,
  options: ReadOptions = {},
): Promise<readonly Colourway[]> {
  aLoadedJob(loaded, "loaded");
  readOptions(options, "options");
  const { job, folder } = loaded;
  return job.colourways === undefined ? [] : readColourwayTable(resolve(folder, job.colourways), options);
}

/**
 * Reads a table of colourways.
 *
 * @throws `RepetendError` E_READ, E_ENCODING, E_LIMIT for the file; E_COLOURWAY, E_COLOUR for the table.
 */
export async function readColourwayTable(
  path: string,
  { signal }: ReadOptions,
): Promise<readonly Colourway[]> {
  const text = await readText(path, TABLE_LIMIT, signal);
  return naming(path, () => readColourways(text));
}
