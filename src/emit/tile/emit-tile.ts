import { join } from "node:path";
import type { Note } from "../../errors.js";
import { aSide } from "../../image/checks.js";
import { type Engine, planBands } from "../../raster/index.js";
import { field, type Print, pixelPrint, recolour, tile } from "../../repeat/index.js";
import { type BandMaker, localMaker } from "../bands/maker.js";
import { aTilePlan, emitTileOptions, tilePlanOptions } from "../checks.js";
import { makeFolder, writeAtomically } from "../files/atomic.js";
import type { ManifestFile } from "../files/manifest.js";
import { CmykConverter, readProfile } from "../profile/cmyk.js";
import { checkWriting } from "./check-writing.js";
import type { PictureStyle } from "./picture.js";
import { type PlannedTileFile, planTile, type TilePlan, type TilePlanOptions, windowOf } from "./plan.js";
import {
  estimateShape,
  picturesOf,
  SHAPES,
  type TileEstimate,
  type Writing,
  writeShape,
} from "./write-shape.js";
import { writeWindow } from "./write-window.js";

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
  /** Draws and compresses the bands, for example in processes of their own. Default: in this one. */
  readonly maker?: BandMaker;
  /** Called as the work goes on. */
  readonly onProgress?: (progress: TileProgress) => void;
  /** Called with each file once it stands under its name, with what is to be said of how it was made. */
  readonly onFile?: (file: ManifestFile, notes: readonly Note[]) => void;
  /** Files that stand in the folder already, whole: they are listed and not made again. Default: none. */
  readonly finished?: readonly ManifestFile[];
  /** Stops between two bands and removes what is unfinished; its reason is thrown. */
  readonly signal?: AbortSignal;
}

/** The files that {@link emitTile} wrote, and what should be known of them. */
export interface EmittedTile {
  readonly files: readonly ManifestFile[];
  readonly notes: readonly Note[];
}

/** The SVG text of a planned file. */
function writeSvg(plan: TilePlan, { file, colourway }: PlannedTileFile): string {
  const coloured = recolour(plan.print, colourway);
  const title = { colourway: colourway.name };
  if (file.kind === "tile") return tile(coloured, title).svg;
  return field(coloured, windowOf(plan, file.kind), title);
}

/** A profile to embed, and where it lies for converting. */
async function openProfile({
  profile,
  space,
}: TilePlanOptions): Promise<
  Pick<PictureStyle, "icc" | "profile"> & { readonly close?: () => Promise<void> }
> {
  if (profile === undefined) return {};
  if (space === "cmyk") {
    const converter = await CmykConverter.open(profile);
    return { icc: converter.icc, profile: converter.path, close: () => converter.close() };
  }
  return { icc: await readProfile(profile) };
}

/** How pictures of a planned tile are stored. */
function styleOf(
  { print, grid }: TilePlan,
  options: TilePlanOptions,
  profile: Pick<PictureStyle, "icc" | "profile">,
): PictureStyle {
  return {
    print,
    plan: planBands(pixelPrint(print, grid), grid),
    compression: options.compression ?? "deflate",
    space: options.space ?? "rgb",
    ...profile,
  };
}

/**
 * Estimates what the pictures of a planned tile and its yardage take, from making one band of each. A strike-off is small
 * and not counted.
 *
 * @param atOnce how many bands will be made at a time.
 * @throws `RepetendError` E_RENDER when the renderer fails; E_READ, E_LIMIT, E_FORMAT for the profile.
 */
export async function estimateTile(
  plan: TilePlan,
  options: TilePlanOptions,
  atOnce: number,
): Promise<TileEstimate> {
  aTilePlan(plan, "plan");
  tilePlanOptions(options, "options");
  aSide(atOnce, "atOnce");
  const { close, ...profile } = await openProfile(options);
  try {
    const writing = { plan, edges: options.edges ?? "soft", style: styleOf(plan, options, profile) };
    let [seconds, bytes] = [0, 0];
    for (const kind of SHAPES) {
      const taken = await estimateShape(writing, picturesOf(plan, kind), atOnce);
      seconds += taken.seconds;
      bytes += taken.bytes;
    }
    return { seconds, bytes };
  } finally {
    await close?.();
  }
}

/** Writes a planned tile. What can be known before anything is drawn is refused before anything is made. */
export async function writeTile(plan: TilePlan, options: EmitTileOptions): Promise<EmittedTile> {
  aTilePlan(plan, "plan");
  emitTileOptions(options, "options");
  const { dir, engine, signal, edges = "soft", onProgress, onFile, finished = [] } = options;
  signal?.throwIfAborted();
  const known = new Map(finished.map((one) => [one.path, one]));
  const done = new Map<PlannedTileFile, ManifestFile>();
  for (const planned of plan.files) {
    const file = known.get(planned.file.path);
    if (file !== undefined) done.set(planned, file);
  }
  const onRows = ({ file }: PlannedTileFile, rows: number): void =>
    onProgress?.({ path: file.path, done: rows, total: file.height ?? 1 });
  const finish: Writing["finish"] = (planned, { bytes, sha256 }, notes) => {
    const file = { ...planned.file, bytes, sha256 };
    done.set(planned, file);
    onRows(planned, file.height ?? 1);
    onFile?.(file, notes);
  };
  const isOpen = (planned: PlannedTileFile): boolean => !done.has(planned);
  const { close, ...profile } = await openProfile(options);
  try {
    const writing: Writing = {
      plan,
      dir,
      edges,
      maker: options.maker ?? localMaker(engine),
      style: styleOf(plan, options, profile),
      ...(engine === undefined ? {} : { engine }),
      ...(signal === undefined ? {} : { signal }),
      isKnown: (planned) => known.has(planned.file.path),
      onRows,
      finish,
    };
    checkWriting(writing, plan.files.filter(isOpen));
    await makeFolder(dir);
    for (const planned of plan.files.filter((one) => one.file.format === "svg" && isOpen(one))) {
      signal?.throwIfAborted();
      onRows(planned, 0);
      const svg = writeSvg(plan, planned);
      finish(planned, await writeAtomically(join(dir, planned.file.path), (sink) => sink.write(svg)), []);
    }
    const notes = new Map<string, Note>();
    for (const kind of SHAPES) {
      const files = picturesOf(plan, kind);
      if (!files.some(isOpen)) continue;
      for (const note of await writeShape(writing, files)) notes.set(note.code, note);
    }
    for (const planned of picturesOf(plan, "strike-off").filter(isOpen)) {
      signal?.throwIfAborted();
      if (plan.crop !== undefined) await writeWindow(writing, planned, plan.crop);
    }
    return {
      files: plan.files.flatMap((planned) => done.get(planned) ?? []),
      notes: [...plan.notes, ...notes.values()],
    };
  } finally {
    await close?.();
  }
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
 * hold, or for bands as wide as the tile within `memory`; E_COLOURWAY in strict mode; E_READ, E_LIMIT, E_FORMAT for the profile;
 * E_RENDER when the renderer fails; E_WRITE when a file cannot be written.
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
  emitTileOptions(options, "options");
  return writeTile(planTile(print, options), options);
}
