import { join } from "node:path";
import { isDeepStrictEqual } from "node:util";
import type { Colourway } from "../colour/index.js";
import type { Note } from "../errors.js";
import type { Box } from "../geometry/index.js";
import { inksIn } from "../image/index.js";
import {
  countPasses,
  dropAlpha,
  type Engine,
  hasTranslucency,
  planeInks,
  renderBands,
  whyNotLinear,
} from "../raster/index.js";
import { describeRepeat, field, type Print, recolour, tile } from "../repeat/index.js";
import { type FileSink, makeFolder, type WrittenFile, writeAtomically } from "./atomic.js";
import { type BandMaker, localMaker } from "./band-maker.js";
import type { BandWork } from "./band-work.js";
import type { Encoding } from "./encoding.js";
import type { ManifestFile, PlannedFile } from "./manifest.js";
import { streamPng } from "./png.js";
import type { PngColour, PngHeader } from "./png-format.js";
import {
  AS_DRAWN,
  type PlannedTileFile,
  planTile,
  type TilePlan,
  type TilePlanOptions,
} from "./tile-plan.js";
import { type BandFile, writeBands } from "./write-bands.js";

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

/** A palette holds so many entries (PNG specification, section 11.2.2). */
const PALETTE_LIMIT = 256;

/** Rendering by threes keeps two cores busy, rendering colourways one by one only one. */
const isWorthPlanes = (print: Print, colourways: number): boolean =>
  colourways > 1 && countPasses(print) <= 2 * colourways;

/** What stands in front of the pixels of a file. */
function headerOf(print: Print, file: PlannedFile, colour: PngColour): PngHeader {
  return {
    width: file.width ?? 0,
    height: file.height ?? 0,
    colour,
    ...(file.dpi === undefined ? {} : { dpi: file.dpi }),
    texts: { Title: print.name, Repeat: describeRepeat(print), Colourway: file.colourway },
  };
}

/** What is handed down to everything that writes pictures. */
interface Writing {
  readonly plan: TilePlan;
  readonly options: EmitTileOptions;
  readonly maker: BandMaker;
  readonly finish: (planned: PlannedTileFile, written: WrittenFile) => void;
}

const tellRows =
  ({ options }: Writing, files: readonly PlannedTileFile[]) =>
  (done: number): void => {
    for (const { file } of files) {
      options.onProgress?.({ path: file.path, done, total: file.height ?? done });
    }
  };

/** Files and the ways in which their rows are stored; files whose rows are alike share one. */
function encodingsOf(
  files: readonly PlannedTileFile[],
  colourOf: (planned: PlannedTileFile) => PngColour,
): { readonly encodings: readonly Encoding[]; readonly places: readonly number[] } {
  const encodings: Encoding[] = [];
  const places = files.map((planned) => {
    const encoding: Encoding = { format: "png", colour: colourOf(planned), colourway: planned.colourway };
    const known = encodings.findIndex((one) => isDeepStrictEqual(one, encoding));
    return known >= 0 ? known : encodings.push(encoding) - 1;
  });
  return { encodings, places };
}

/** Writes files of one shape side by side; `false` for a palette that a print with mixed inks does not fit. */
async function writeSide(
  writing: Writing,
  way: BandWork["way"],
  files: readonly PlannedTileFile[],
): Promise<boolean> {
  const { plan, options, maker, finish } = writing;
  const { print, grid } = plan;
  const inks = planeInks(print);
  const whole = { kind: print.ground === undefined ? "rgba" : "rgb" } as const;
  const palette = (colourway: Colourway): PngColour => ({
    kind: "palette",
    entries: inksIn({ inks }, colourway),
  });
  // Which ink a pixel has is the same in every colourway: rows are stored once.
  const { encodings, places } = encodingsOf(
    way === "places" ? files.map((one) => ({ ...one, colourway: AS_DRAWN })) : files,
    ({ colourway }) => (way === "places" ? palette(colourway) : whole),
  );
  const isYardage = files[0]?.file.kind === "yardage";
  const repeats = isYardage ? plan.repeats : { x: 1, y: 1 };
  const work: BandWork = {
    way,
    print,
    grid,
    edges: way === "places" ? "hard" : (options.edges ?? "soft"),
    across: repeats.x,
    encodings,
  };
  const tell = tellRows(writing, files);
  tell(0);
  const targets = files.map(
    ({ file, colourway }, at): BandFile => ({
      path: join(options.dir, file.path),
      header: headerOf(print, file, way === "places" ? palette(colourway) : whole),
      encoding: places[at] ?? 0,
    }),
  );
  const written = await writeBands(work, targets, {
    maker,
    down: repeats.y,
    ...(options.signal === undefined ? {} : { signal: options.signal }),
    onRows: (done) => tell(done * repeats.y),
  });
  if (written === undefined) return false;
  for (const [at, planned] of files.entries()) finish(planned, written[at] as WrittenFile);
  return true;
}

/** Writes pictures of one shape in all colourways, in the way that takes the fewest renderings. */
async function writeShape(writing: Writing, files: readonly PlannedTileFile[]): Promise<readonly Note[]> {
  const { print } = writing.plan;
  const { edges = "soft", signal } = writing.options;
  const [reason] = whyNotLinear(print);
  const isTranslucent = hasTranslucency(print);
  const notes: Note[] = [];
  const colourways = new Set(files.map((one) => one.colourway)).size;
  if (reason !== undefined && (colourways > 1 || edges === "hard")) notes.push(notLinear(reason));
  const side = function* () {
    for (let from = 0; from < files.length; from += SIDE_BY_SIDE)
      yield files.slice(from, from + SIDE_BY_SIDE);
  };
  if (reason === undefined && edges === "hard" && planeInks(print).length <= PALETTE_LIMIT) {
    let isFlat = planeInks(print).length > 0;
    for (const some of isFlat ? side() : []) isFlat = isFlat && (await writeSide(writing, "places", some));
    if (isFlat) return notes;
  }
  if (reason === undefined && edges === "hard") notes.push(NOT_FLAT);
  if (reason === undefined && isTranslucent && colourways > 1) notes.push(TRANSLUCENT);
  if (reason === undefined && !isTranslucent && isWorthPlanes(print, colourways)) {
    for (const some of side()) await writeSide(writing, "planes", some);
    return notes;
  }
  for (const colourway of new Set(files.map((one) => one.colourway))) {
    signal?.throwIfAborted();
    await writeSide(
      writing,
      "direct",
      files.filter((one) => one.colourway === colourway),
    );
  }
  return notes;
}

/** Writes a window of the field, which is small: rendered and stored in this process. */
async function writeWindow(writing: Writing, planned: PlannedTileFile, window: Box): Promise<void> {
  const { plan, options, finish } = writing;
  const { engine, signal, edges = "soft", dir } = options;
  const { file, colourway } = planned;
  const isOpaque = plan.print.ground !== undefined && plan.print.kind === "all-over";
  const tell = tellRows(writing, [planned]);
  tell(0);
  async function* bands() {
    let done = 0;
    const rendering = {
      edges,
      window,
      ...(engine === undefined ? {} : { engine }),
      ...(signal === undefined ? {} : { signal }),
    };
    for await (const band of renderBands(recolour(plan.print, colourway), plan.grid, rendering)) {
      done += band.height;
      yield isOpaque ? dropAlpha(band) : band;
      tell(done);
    }
  }
  const header = headerOf(plan.print, file, { kind: isOpaque ? "rgb" : "rgba" });
  const write = async (sink: FileSink) => {
    for await (const part of streamPng(header, bands())) await sink.write(part);
  };
  finish(planned, await writeAtomically(join(dir, file.path), write));
}

/** The SVG text of a planned file. */
function writeSvg({ print, grid, crop, repeats }: TilePlan, { file, colourway }: PlannedTileFile): string {
  const coloured = recolour(print, colourway);
  const title = { colourway: colourway.name };
  if (file.kind === "yardage") {
    const [width, height] = [grid.mm.width * repeats.x, grid.mm.height * repeats.y];
    return field(coloured, { width, height }, title);
  }
  if (file.kind === "strike-off" && crop !== undefined) {
    const x = grid.mm.width / grid.tile.width;
    const y = grid.mm.height / grid.tile.height;
    const window = { x: crop.x * x, y: crop.y * y, width: crop.width * x, height: crop.height * y };
    return field(coloured, window, title);
  }
  return tile(coloured, title).svg;
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
    const svg = writeSvg(plan, planned);
    finish(planned, await writeAtomically(join(dir, planned.file.path), (sink) => sink.write(svg)));
  }
  const writing = { plan, options, maker: options.maker ?? localMaker(options.engine), finish };
  const notes = new Map<string, Note>();
  for (const kind of ["tile", "yardage"] as const) {
    const files = plan.files.filter(({ file }) => file.kind === kind && file.format !== "svg");
    if (files.length === 0) continue;
    for (const note of await writeShape(writing, files)) notes.set(note.code, note);
  }
  for (const planned of plan.files) {
    signal?.throwIfAborted();
    const { kind, format } = planned.file;
    if (kind === "strike-off" && format !== "svg" && plan.crop !== undefined) {
      await writeWindow(writing, planned, plan.crop);
    }
  }
  return {
    files: plan.files.flatMap((planned) => finished.get(planned) ?? []),
    notes: [...plan.notes, ...notes.values()],
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
