import { join } from "node:path";
import type { Note } from "../errors.js";
import type { Engine } from "../raster/index.js";
import type { Print } from "../repeat/index.js";
import { recolour, tile } from "../repeat/index.js";
import { makeFolder, writeAtomically } from "./atomic.js";
import type { ManifestFile } from "./manifest.js";
import { planTile, type TilePlan, type TilePlanOptions } from "./tile-plan.js";
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

/** Writes a planned tile. */
export async function writeTile(plan: TilePlan, options: EmitTileOptions): Promise<EmittedTile> {
  const { edges = "soft", dir, onProgress, signal } = options;
  const { grid, print } = plan;
  const rendering = {
    edges,
    ...(options.engine === undefined ? {} : { engine: options.engine }),
    ...(signal === undefined ? {} : { signal }),
  };
  await makeFolder(dir);
  const files: ManifestFile[] = [];
  const notes = [...plan.notes];
  let shared: InkPieces | undefined;
  let tryShared = edges === "hard";
  for (const { file, colourway } of plan.files) {
    signal?.throwIfAborted();
    const total = file.height ?? 1;
    const onRows = (done: number) => onProgress?.({ path: file.path, done, total });
    onRows(0);
    if (file.format === "png" && tryShared) {
      tryShared = false;
      shared = await makeInkPieces(print, grid, { ...rendering, onRows });
      if (shared === undefined) notes.push(NOT_FLAT);
    }
    const written = await writeAtomically(join(dir, file.path), async (sink) => {
      if (file.format === "svg") {
        await sink.write(tile(recolour(print, colourway), { colourway: colourway.name }).svg);
        return;
      }
      const parts =
        shared === undefined
          ? streamTilePng(print, grid, colourway, { ...rendering, onRows })
          : streamInkPng(print, grid, colourway, shared);
      for await (const part of parts) await sink.write(part);
    });
    const finished = { ...file, bytes: written.bytes, sha256: written.sha256 };
    files.push(finished);
    onRows(total);
    options.onFile?.(finished);
  }
  return { files, notes };
}

/**
 * Writes a print's tile as SVG and PNG in every colourway: sizes are checked before anything is drawn, pixels are drawn
 * band by band, and under each name stands the old file or the whole new one. The same print and options give the same
 * bytes.
 *
 * @param print the print; `dpi`, `scale`, `shrinkage`, `formats`, `colourways`, `edges` say what becomes of it.
 * @returns the files, in order of colourways, and notes on pixels and colourways.
 * @throws {@link RepetendError} E_NUMBER, E_UNIT for options out of range; E_TOO_LARGE for a size that a PNG cannot
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
