import { join } from "node:path";
import { isDeepStrictEqual } from "node:util";
import { type Note, RepetendError } from "../errors.js";
import type { Box } from "../geometry/index.js";
import {
  countPasses,
  type Engine,
  hasTranslucency,
  planBands,
  renderBands,
  whyNotLinear,
} from "../raster/index.js";
import { field, type Print, pixelPrint, recolour, tile } from "../repeat/index.js";
import { type FileSink, makeFolder, type WrittenFile, writeAtomically } from "./atomic.js";
import { type BandMaker, localMaker } from "./band-maker.js";
import type { BandWork } from "./band-work.js";
import { CmykConverter, readProfile } from "./convert-colour.js";
import type { Encoding } from "./encoding.js";
import type { ManifestFile } from "./manifest.js";
import { encodingOf, type PictureStyle, pictureOf, takesPalette } from "./tile-picture.js";
import {
  AS_DRAWN,
  type PlannedTileFile,
  planTile,
  type TilePlan,
  type TilePlanOptions,
} from "./tile-plan.js";
import { type BandFile, writeBands } from "./write-bands.js";
import { writePicture } from "./write-picture.js";

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

/** Rendering by threes keeps two cores busy, rendering colourways one by one only one. */
const isWorthPlanes = (print: Print, colourways: number): boolean =>
  colourways > 1 && countPasses(print) <= 2 * colourways;

/** What is handed down to everything that writes pictures. */
interface Writing {
  readonly plan: TilePlan;
  readonly options: EmitTileOptions;
  readonly maker: BandMaker;
  readonly style: PictureStyle;
  readonly finish: (planned: PlannedTileFile, written: WrittenFile) => void;
}

const tellRows =
  ({ options }: Writing, files: readonly PlannedTileFile[]) =>
  (done: number): void => {
    for (const { file } of files) {
      options.onProgress?.({ path: file.path, done, total: file.height ?? done });
    }
  };

/** Writes files of one shape side by side; `false` for a palette that a print with mixed inks does not fit. */
async function writeSide(
  writing: Writing,
  way: BandWork["way"],
  files: readonly PlannedTileFile[],
): Promise<boolean> {
  const { plan, options, maker, style, finish } = writing;
  const { print, grid } = plan;
  const isPlaces = way === "places";
  // Files whose rows are stored alike share an encoding.
  const encodings: Encoding[] = [];
  const places = files.map((planned) => {
    const encoding = encodingOf(style, planned, isPlaces, AS_DRAWN);
    const known = encodings.findIndex((one) => isDeepStrictEqual(one, encoding));
    return known >= 0 ? known : encodings.push(encoding) - 1;
  });
  const repeats = files[0]?.file.kind === "yardage" ? plan.repeats : { x: 1, y: 1 };
  const { edges = "soft" } = options;
  const work: BandWork = { way, print, grid, edges, across: repeats.x, encodings };
  const tell = tellRows(writing, files);
  tell(0);
  const targets = files.map(
    (planned, at): BandFile => ({
      path: join(options.dir, planned.file.path),
      picture: pictureOf(style, planned, isPlaces),
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
  const side = function* (some: readonly PlannedTileFile[]) {
    for (let from = 0; from < some.length; from += SIDE_BY_SIDE) yield some.slice(from, from + SIDE_BY_SIDE);
  };
  let rest = files;
  if (reason === undefined && edges === "hard") {
    const fits = files.filter(({ file }) => takesPalette(writing.style, file));
    let isFlat = fits.length > 0;
    for (const some of side(fits)) isFlat = isFlat && (await writeSide(writing, "places", some));
    if (isFlat) rest = files.filter((planned) => !fits.includes(planned));
    else notes.push(NOT_FLAT);
  }
  if (rest.length === 0) return notes;
  if (reason === undefined && isTranslucent && colourways > 1) notes.push(TRANSLUCENT);
  if (reason === undefined && !isTranslucent && isWorthPlanes(print, colourways)) {
    for (const some of side(rest)) await writeSide(writing, "planes", some);
    return notes;
  }
  for (const colourway of new Set(rest.map((one) => one.colourway))) {
    signal?.throwIfAborted();
    await writeSide(
      writing,
      "direct",
      rest.filter((one) => one.colourway === colourway),
    );
  }
  return notes;
}

/** Writes a window of the field, which is small: rendered and stored in this process. */
async function writeWindow(writing: Writing, planned: PlannedTileFile, window: Box): Promise<void> {
  const { plan, options, style, finish } = writing;
  const { engine, signal, edges = "soft", dir } = options;
  const { file, colourway } = planned;
  // Beyond a selvedge there is nothing.
  const isWhole =
    plan.print.kind === "border" && (window.y < 0 || window.y + window.height > plan.grid.tile.height);
  if (isWhole && style.space !== "rgb" && file.format === "tiff") {
    throw new RepetendError("E_FORMAT", "beyond a selvedge there is no colour in this space", {
      where: "crop",
      value: style.space,
      accepted: "a window inside the cloth, or RGB",
    });
  }
  const shown = isWhole ? { ...style, print: { ...plan.print, ground: undefined } } : style;
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
      yield band;
      tell(done);
    }
  }
  const write = (sink: FileSink) =>
    writePicture(sink, pictureOf(shown, planned, false), bands(), style.profile);
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

/** A profile to embed, and where it lies for converting. */
async function openProfile({
  profile,
  space,
}: EmitTileOptions): Promise<
  Pick<PictureStyle, "icc" | "profile"> & { readonly close?: () => Promise<void> }
> {
  if (profile === undefined) return {};
  if (space === "cmyk") {
    const converter = await CmykConverter.open(profile);
    return { icc: converter.icc, profile: converter.path, close: () => converter.close() };
  }
  return { icc: await readProfile(profile) };
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
  const profile = await openProfile(options);
  const notes = new Map<string, Note>();
  try {
    const { print, grid } = plan;
    const style: PictureStyle = {
      print,
      plan: planBands(pixelPrint(print, grid), grid),
      compression: options.compression ?? "deflate",
      space: options.space ?? "rgb",
      ...profile,
    };
    const writing = { plan, options, maker: options.maker ?? localMaker(options.engine), style, finish };
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
  } finally {
    await profile.close?.();
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
