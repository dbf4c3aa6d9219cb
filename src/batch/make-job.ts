import { join } from "node:path";
import {
  AS_DRAWN,
  emitSeparations,
  type ManifestFile,
  makeFolder,
  type TileProgress,
  writeAtomically,
  writeTile,
} from "../emit/index.js";
import { checkContacts } from "../image/index.js";
import type { Engine } from "../raster/index.js";
import { recolour } from "../repeat/index.js";
import { dressGarments, writeGarments } from "./make-garments.js";
import type { JobPlan, Manifest, TileSeams } from "./manifest.js";
import { MANIFEST_NAME, type PlanJobOptions, prepareJob } from "./plan-job.js";
import { measureInks } from "./print-coverage.js";
import { checkPrintSeams } from "./print-seams.js";
import type { LoadedJob } from "./read-job.js";
import { clearStrays } from "./strays.js";

/** How far a job is. */
export type JobProgress =
  | { readonly kind: "planned"; readonly plan: JobPlan }
  | ({ readonly kind: "rows" } & TileProgress)
  | { readonly kind: "file"; readonly file: ManifestFile }
  | { readonly kind: "seams"; readonly colourway: string; readonly ok: boolean };

/** How a job is made. */
export interface MakeJobOptions extends PlanJobOptions {
  /** Default: the native engine. */
  readonly engine?: Engine;
  /** Called as the work goes on. */
  readonly onProgress?: (progress: JobProgress) => void;
  /** Stops between two bands and removes what is unfinished; its reason is thrown. */
  readonly signal?: AbortSignal;
}

/**
 * Makes a job: writes its files, checks the seams of every tile, and writes `manifest.json` last. Temporaries that a
 * dead run left in the folder are cleared first. Running it again gives the same bytes.
 *
 * @param job a path, or a job that was read.
 * @returns what stands in the manifest; paths are relative to the folder.
 * @throws `RepetendError` as {@link planJob}; E_RENDER when the renderer fails; E_WRITE when a file cannot be
 * written. The signal's reason when it stops the work.
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
  const { engine, signal, onProgress } = options;
  const running = {
    ...(engine === undefined ? {} : { engine }),
    ...(signal === undefined ? {} : { signal }),
  };
  const {
    out,
    print,
    colourways,
    options: tileOptions,
    separations,
    tile,
    garments: planned,
    plan,
  } = await prepareJob(job, options);
  onProgress?.({ kind: "planned", plan });
  const garments = dressGarments(planned, print);
  await makeFolder(out);
  await clearStrays(out);
  const emitted = await writeTile(tile, {
    ...tileOptions,
    ...running,
    dir: out,
    onProgress: (progress) => onProgress?.({ kind: "rows", ...progress }),
    onFile: (file) => onProgress?.({ kind: "file", file }),
  });
  const { dpi } = tileOptions;
  const seams: TileSeams[] = [];
  for (const colourway of colourways.length > 0 ? colourways : [AS_DRAWN]) {
    const checked = { ...running, dpi: typeof dpi === "number" ? dpi : Math.min(dpi.x, dpi.y) };
    const report = await checkPrintSeams(recolour(print, colourway), checked);
    seams.push({ colourway: colourway.name, report });
    onProgress?.({ kind: "seams", colourway: colourway.name, ok: report.ok });
  }
  const late = emitted.notes.filter((note) => !tile.notes.includes(note));
  const films =
    separations === undefined
      ? undefined
      : await emitSeparations(print, {
          ...tileOptions,
          ...separations,
          ...running,
          dir: out,
          onFile: (file) => onProgress?.({ kind: "file", file }),
        });
  const shown = await writeGarments(garments, {
    ...running,
    dir: out,
    onProgress: (progress) => onProgress?.({ kind: "rows", ...progress }),
    onFile: (file) => onProgress?.({ kind: "file", file }),
  });
  const measures = await measureInks(print, tile.grid, running);
  const [first = AS_DRAWN] = colourways;
  const touching = colourways.flatMap((colourway) =>
    measures === undefined ? [] : checkContacts(measures.contacts, colourway, { first }),
  );
  const manifest: Manifest = {
    ...plan,
    files: [...emitted.files, ...(films?.files ?? []), ...shown],
    seams,
    ...(garments.length > 0 ? { garments: garments.map((one) => one.report) } : {}),
    coverage: measures?.coverage ?? [],
    notes: [
      ...plan.notes,
      ...late,
      ...(films?.notes ?? []),
      ...touching,
      ...garments.flatMap((one) => one.notes),
    ],
  };
  await writeAtomically(join(out, MANIFEST_NAME), (sink) =>
    sink.write(`${JSON.stringify(manifest, null, 2)}\n`),
  );
  return manifest;
}
