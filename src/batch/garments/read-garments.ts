import { basename, extname, resolve } from "node:path";
import type { Colourway } from "../../colour/index.js";
import { RepetendError } from "../../errors.js";
import { type DressOptions, type PanelOptions, readSketch, type Sketch } from "../../garment/index.js";
import type { Print } from "../../repeat/index.js";
import type { JobGarment } from "../job/garment-job.js";
import type { ReadOptions } from "../job/read-file.js";
import { type LoadedJob, readJob } from "../job/read-job.js";
import {
  buildPrint,
  inputsOf,
  namingFile,
  readColourwayTable,
  readDrawingBytes,
  readJobColourways,
} from "../prints/build-print.js";

/** The print of another job that panels of a garment take, with the colourways of its own table. */
export interface Companion {
  readonly print: Print;
  readonly colourways: readonly Colourway[];
}

/** A garment of a job with everything that it names. */
export interface ReadGarment {
  readonly name: string;
  readonly sketch: Sketch;
  readonly options: DressOptions;
  readonly dpi: number | undefined;
  /** Of the garment's own colours; `undefined` where it names no table. */
  readonly own: readonly Colourway[] | undefined;
  /** The absolute path of that table: garments may share one. */
  readonly table: string | undefined;
  readonly companions: readonly Companion[];
  /** The files that were read, as absolute paths. */
  readonly inputs: readonly string[];
}

/** Companions by the absolute path of their job, each with the files that were read for it. */
export type Companions = ReadonlyMap<string, Companion & { readonly inputs: readonly string[] }>;

/**
 * Reads the prints of other jobs, each once.
 *
 * @param prints paths of jobs, relative to the one that names them.
 */
export async function readCompanions(
  loaded: LoadedJob,
  prints: readonly string[],
  options: ReadOptions,
): Promise<Companions> {
  const companions = new Map<string, Companion & { readonly inputs: readonly string[] }>();
  for (const print of prints) {
    const path = resolve(loaded.folder, print);
    if (companions.has(path)) continue;
    const job = await readJob(path, options);
    const inputs = [path, ...inputsOf(job)];
    companions.set(path, {
      print: await buildPrint(job, options),
      colourways: await readJobColourways(job, options),
      inputs,
    });
  }
  return companions;
}

async function readGarment(
  loaded: LoadedJob,
  garment: JobGarment,
  companions: Companions,
  options: ReadOptions,
): Promise<ReadGarment> {
  const { name, scale, clothWidth, dpi } = garment;
  const path = resolve(loaded.folder, garment.sketch);
  const bytes = await readDrawingBytes(path, options.signal);
  const sketch = namingFile(path, () => readSketch(bytes, { name: basename(path, extname(path)) }));
  const table = garment.colourways === undefined ? undefined : resolve(loaded.folder, garment.colourways);
  const own = table === undefined ? undefined : await readColourwayTable(table, options);
  const taken = garment.panels.flatMap(({ print }) => {
    const found = print === undefined ? undefined : companions.get(resolve(loaded.folder, print));
    return found === undefined ? [] : [found];
  });
  const panels = garment.panels.map(({ print, ...panel }): PanelOptions => {
    const found = print === undefined ? undefined : companions.get(resolve(loaded.folder, print));
    return found === undefined ? panel : { ...panel, print: found.print, colourways: found.colourways };
  });
  const garmentInks = [...new Set((own ?? []).flatMap(({ inks }) => Object.keys(inks)))];
  return {
    name,
    sketch,
    options: { scale, panels, garmentInks, ...(clothWidth === undefined ? {} : { clothWidth }) },
    dpi,
    own,
    table,
    companions: [...new Set(taken)],
    inputs: [path, ...(table === undefined ? [] : [table]), ...taken.flatMap(({ inputs }) => inputs)],
  };
}

/**
 * Reads the garments of a job: sketches, companion prints, and tables of their own colours.
 *
 * @throws `RepetendError` E_READ, E_ENCODING, E_LIMIT for files; what drawings, jobs and tables refuse, with the
 * file's name; E_JOB for two garments of one name.
 */
export async function readGarments(
  loaded: LoadedJob,
  options: ReadOptions = {},
): Promise<readonly ReadGarment[]> {
  const { garments = [] } = loaded.job;
  const twice = garments.find(({ name }, index) => garments.findIndex((one) => one.name === name) < index);
  if (twice !== undefined)
    throw new RepetendError("E_JOB", "two garments have one name", {
      input: loaded.path,
      where: `garments[${garments.indexOf(twice)}].name`,
      value: twice.name,
      accepted: "a name of its own for each garment",
    });
  const companions = await readCompanions(
    loaded,
    garments.flatMap(({ panels }) => panels.flatMap(({ print }) => print ?? [])),
    options,
  );
  const read: ReadGarment[] = [];
  for (const garment of garments) read.push(await readGarment(loaded, garment, companions, options));
  return read;
}
