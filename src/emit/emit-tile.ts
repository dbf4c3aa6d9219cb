import { join } from "node:path";
import type { Note } from "../errors.js";
import { countPasses, type Engine, hasTranslucency, whyNotLinear } from "../raster/index.js";
import type { Print } from "../repeat/index.js";
import { recolour, tile } from "../repeat/index.js";
import { type FileSink, makeFolder, type WrittenFile, writeAtomically } from "./atomic.js";
import type { ManifestFile } from "./manifest.js";
import { planTile, type TilePlan, type TilePlanOptions } from "./tile-plan.js";
import { writePlanePngs } from "./tile-planes.js";
import { type InkPieces, makeInkPieces, streamInkPng, streamTilePng } from "./tile-png.js";

/** How far a file is. */
export interface TileProgress {
  /** Its path in the folder. */
  readonly path: string;
  /** Rows drawn, of how many; 1 of 1 when a file is written. */
  readonly done: number;
  readonly total: number;
}

/** Where and how the files of a tile are written. */
export interface EmitTileOptions extends TilePlanOptions {
  /** The folder; made where it is missing. */
  readonly dir: string;
  /** Default: the native engine. */
  readonly engine?: Engine;
  /** Called as the work goes on. */
  readonly onProgress?: (progress: TileProgress) => void;
  /** Called with each file once it stands under its name. */
  readonly onFile?: (file: ManifestFile) => void;
  /** Stops between two bands and removes what is unfinished; its reason is thrown. */
  readonly signal?: AbortSignal;
}

/** The files that {@link emitTile} wrote, and what should be known of them. */
export interface EmittedTile {
  readonly files: readonly ManifestFile[];
  readonly notes: readonly Note[];
}

const NOT_FLAT: Note = {
  level: "info",
  code: "N_NOT_FLAT",
  message:
    "the print paints shades between its inks, or has more than 256: its hard-edged PNG is RGB, not a palette",
};

const notLinear = (reason: string): Note => ({
  level: "info",
  code: "N_NOT_LINEAR",
  message: `the print is no sum of its inks, so that each colourway is rendered by itself: ${reason}`,
});

const TRANSLUCENT: Note = {
  level: "info",
  code: "N_TRANSLUCENT",
  message:
    "the print has opacities or masks, which round otherwise in ink planes: each colourway is rendered by itself",
};

/** So many files are written side by side; more would need more open files than systems grant. */
const SIDE_BY_SIDE = 64;

type PlannedTileFile = TilePlan["files"][number];

/** Rendering by threes keeps two cores busy, rendering colourways one by one only one. */
const isWorthPlanes = (print: Print, colourways: number): boolean =>
  colourways > 1 && countPasses(print) <= 2 * colourways;

/** Writes the pictures of a tile in all colourways, in the way that takes the fewest renderings. */
async function writePngs(
  plan: TilePlan,
  pngs: readonly PlannedTileFile[],
  options: EmitTileOptions,
  finish: (planned: PlannedTileFile, written: WrittenFile) => void,
): Promise<readonly Note[]> {
  const { grid, print } = plan;
  const { edges = "soft", dir, engine, signal, onProgress } = options;
  const rendering = {
    edges,
    ...(engine === undefined ? {} : { engine }),
    ...(signal === undefined ? {} : { signal }),
  };
  const tellRows =
    (files: readonly PlannedTileFile[]) =>
    (done: number): void => {
      for (const { file } of files) onProgress?.({ path: file.path, done, total: grid.tile.height });
    };
  const [reason] = whyNotLinear(print);
  const notes = reason !== undefined && (pngs.length > 1 || edges === "hard") ? [notLinear(reason)] : [];
  const [first] = pngs;
  if (first === undefined) return [];
  if (reason === undefined && edges === "hard") {
    tellRows([first])(0);
    const shared = await makeInkPieces(print, grid, { ...rendering, onRows: tellRows([first]) });
    for (const planned of shared === undefined ? [] : pngs) {
      signal?.throwIfAborted();
      const write = async (sink: FileSink) => {
        for await (const part of streamInkPng(print, grid, planned.colourway, shared as InkPieces)) {
          await sink.write(part);
        }
      };
      finish(planned, await writeAtomically(join(dir, planned.file.path), write));
    }
    if (shared !== undefined) return notes;
    notes.push(NOT_FLAT);
  }
  const isTranslucent = hasTranslucency(print);
  if (reason === undefined && isTranslucent && pngs.length > 1) notes.push(TRANSLUCENT);
  if (reason === undefined && !isTranslucent && isWorthPlanes(print, pngs.length)) {
    for (let from = 0; from < pngs.length; from += SIDE_BY_SIDE) {
      const together = pngs.slice(from, from + SIDE_BY_SIDE);
      const onRows = tellRows(together);
      onRows(0);
      const targets = together.map(({ file, colourway }) => ({ path: join(dir, file.path), colourway }));
      const written = await writePlanePngs(print, grid, targets, { ...rendering, onRows });
      for (const [at, planned] of together.entries()) finish(planned, written[at] as WrittenFile);
    }
    return notes;
  }
  for (const planned of pngs) {
    signal?.throwIfAborted();
    const onRows = tellRows([planned]);
    onRows(0);
    const write = async (sink: FileSink) => {
      const parts = streamTilePng(print, grid, planned.colourway, { ...rendering, onRows });
      for await (const part of parts) await sink.write(part);
    };
    finish(planned, await writeAtomically(join(dir, planned.file.path), write));
  }
  return notes;
}

/** Writes a planned tile. */
export async function writeTile(plan: TilePlan, options: EmitTileOptions): Promise<EmittedTile> {
  const { dir, onProgress, onFile, signal } = options;
  await makeFolder(dir);
  const finished = new Map<PlannedTileFile, ManifestFile>();
  const finish = (planned: PlannedTileFile, { bytes, sha256 }: WrittenFile): void => {
    const file = { ...planned.file, bytes, sha256 };
    const total = file.height ?? 1;
    finished.set(planned, file);
    onProgress?.({ path: file.path, done: total, total });
    onFile?.(file);
  };
  for (const planned of plan.files.filter(({ file }) => file.format === "svg")) {
    signal?.throwIfAborted();
    onProgress?.({ path: planned.file.path, done: 0, total: 1 });
    const { colourway } = planned;
    const { svg } = tile(recolour(plan.print, colourway), { colourway: colourway.name });
    finish(planned, await writeAtomically(join(dir, planned.file.path), (sink) => sink.write(svg)));
  }
  const pngs = plan.files.filter(({ file }) => file.format === "png");
  const notes = await writePngs(plan, pngs, options, finish);
  return {
    files: plan.files.flatMap((planned) => finished.get(planned) ?? []),
    notes: [...plan.notes, ...notes],
  };
}

/**
 * Writes a print's tile as SVG and PNG in every colourway, all of them from one set of ink planes where that is possible
 * and worth it (with hard edges, from one rendering): sizes are checked before anything is drawn, pixels are drawn
 * band by band, and under each name stands the old file or the whole new one. The same print and options give the same
 * bytes.
 *
 * @param print the print; `dpi`, `scale`, `shrinkage`, `formats`, `colourways`, `edges` say what becomes of it.
 * @returns the files, in order of colourways, and notes on pixels and colourways.
 * @throws `RepetendError` E_NUMBER, E_UNIT for options out of range; E_TOO_LARGE for a size that a PNG cannot
 * hold; E_COLOURWAY in strict mode; E_RENDER when the renderer fails; E_WRITE when a file cannot be written.
 *
 * @example
 * ```ts
 * import { colourway, straight } from "repetend";
 * import { emitTile } from "repetend/emit";
 * import { mkdtempSync } from "node:fs";
 * import { tmpdir } from "node:os";
 * import { join } from "node:path";
 * const print = straight({ name: "Plain", width: "1in", height: "1in", ground: "#f2ead8", motifs: [] });
 * const dir = mkdtempSync(join(tmpdir(), "tiles-"));
 * const dusk = colourway("Dusk", { "#f2ead8": "#1b2a41" });
 * const { files } = await emitTile(print, { dpi: 100, dir, colourways: [dusk] });
 * files.map((file) => file.path); // ["plain--dusk.svg", "plain--dusk.png"]
 * ```
 */
export async function emitTile(print: Print, options: EmitTileOptions): Promise<EmittedTile> {
  return writeTile(planTile(print, options), options);
}
