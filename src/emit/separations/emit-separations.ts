import { join } from "node:path";
import { type Note, RepetendError } from "../../errors.js";
import { inkPlanes } from "../../image/checks.js";
import {
  coverageOf,
  type InkCoverage,
  type InkPlanes,
  isPure,
  makeScreen,
  type PixelImage,
  type PlaneBand,
  printingOrder,
  screenRows,
} from "../../image/index.js";
import { type Engine, planeInks, whyNotLinear } from "../../raster/index.js";
import { aPrint } from "../../repeat/checks.js";
import { describeRepeat, type PixelGridOptions, type Print, pixelGrid } from "../../repeat/index.js";
import { type BandMaker, localMaker, makeAllBands } from "../bands/maker.js";
import { type BandWork, prepareWork } from "../bands/work.js";
import { checkSide } from "../check-picture.js";
import { emitSeparationsOptions } from "../checks.js";
import { makeFolder } from "../files/atomic.js";
import type { ManifestFile } from "../files/manifest.js";
import { PNG_LIMIT } from "../png/format.js";
import { TIFF_LIMIT } from "../tiff/format.js";
import { enlargePrint } from "../tile/plan.js";
import { planFilms, type SeparationOptions, underBaseInks } from "./films.js";
import { type FilmPicture, writeFilm } from "./write-film.js";

/** Where and how separations are written. */
export interface EmitSeparationsOptions extends PixelGridOptions, SeparationOptions {
  /** The folder; made where it is missing. */
  readonly dir: string;
  /** "hard": every pixel is one ink, one bit a pixel. Default "soft". */
  readonly edges?: "soft" | "hard";
  /** Default: the native engine. */
  readonly engine?: Engine;
  /** Draws the bands, for example in processes of their own. Default: in this one. */
  readonly maker?: BandMaker;
  /** Called with each file once it stands under its name. */
  readonly onFile?: (file: ManifestFile) => void;
  /** Files that stand in the folder already, whole: they are listed and not made again. Default: none. */
  readonly finished?: readonly ManifestFile[];
  /** Stops between two files and removes what is unfinished; its reason is thrown. */
  readonly signal?: AbortSignal;
}

/** The files that {@link emitSeparations} wrote, and how much of the repeat each ink covers. */
export interface EmittedSeparations {
  /** In printing order: the under-base, then the lightest ink first. */
  readonly files: readonly ManifestFile[];
  readonly coverage: readonly InkCoverage[];
  readonly notes: readonly Note[];
}

const NOT_FLAT: Note = {
  level: "info",
  code: "N_NOT_FLAT",
  message: "the print paints shades between its inks: its separations are tones, not one bit a pixel",
};

const NO_UNDER_BASE: Note = {
  level: "warning",
  code: "N_UNDER_BASE",
  message: "the under-base is empty: no ink is lighter than the ground",
};

/**
 * Writes the separations of ink planes: one grey picture an ink, all of the planes' size and origin. See
 * {@link emitSeparations}.
 */
export async function writeSeparations(
  print: Print,
  planes: InkPlanes,
  options: EmitSeparationsOptions,
): Promise<readonly ManifestFile[]> {
  aPrint(print, "print");
  inkPlanes(planes, "planes");
  emitSeparationsOptions(options, "options");
  const { dir, signal, onFile, finished = [] } = options;
  const { full = "high", format = "png", compression = "deflate" } = options;
  const films = planFilms(print, planes, options);
  await makeFolder(dir);
  const known = new Map(finished.map((one) => [one.path, one]));
  const isFlat = planes.edges === "hard" && planes.bands.every((band) => isPure(band.table));
  const depth = isFlat || options.screen !== undefined ? 1 : 8;
  const screen = options.screen === undefined || isFlat ? undefined : makeScreen(options.screen);
  const repeat = describeRepeat(enlargePrint(print, options));
  const files: ManifestFile[] = [];
  for (const [order, { file, rows, plain }] of films.entries()) {
    signal?.throwIfAborted();
    const before = known.get(file.path);
    if (before !== undefined) {
      files.push(before);
      continue;
    }
    const { ink = "under-base" } = file;
    const picture: FilmPicture = {
      path: join(dir, file.path),
      width: planes.width,
      height: planes.height,
      ...(planes.dpi === undefined ? {} : { dpi: planes.dpi }),
      depth,
      full,
      format,
      compression,
      texts: {
        title: print.name,
        repeat,
        separation: `${order + 1} of ${films.length}: ${ink}; full ink is ${full === "high" ? "white" : "black"}`,
      },
    };
    const dots = (band: PlaneBand): PixelImage =>
      screen === undefined
        ? rows(band)
        : screenRows(rows(band), screen, { y: band.y, height: planes.height });
    const { bytes, sha256 } = await writeFilm(picture, { bands: planes.bands, rows: dots, plain }, signal);
    const written = { ...file, bytes, sha256 };
    files.push(written);
    onFile?.(written);
  }
  return files;
}

/** The work that makes the ink planes of a print. */
const planeWork = (
  print: Print,
  { edges = "soft", ...options }: PixelGridOptions & Pick<EmitSeparationsOptions, "edges">,
): BandWork => {
  const grid = pixelGrid(print, options);
  return { way: "planes", print, grid, edges, across: 1, encodings: [], keepsPlanes: true };
};

const planesOf = (print: Print, { edges, grid }: BandWork, bands: readonly PlaneBand[]): InkPlanes => ({
  kind: "ink-planes",
  edges,
  ...grid.tile,
  dpi: grid.dpi,
  inks: planeInks(print),
  bands,
});

/**
 * Refuses separations that could not be written, by all that can be known before anything is drawn.
 *
 * @param options `maker`: what will draw them.
 * @throws `RepetendError` E_FEATURE, E_NUMBER, E_UNIT, E_INK, E_FORMAT as {@link emitSeparations}; E_TOO_LARGE for a
 * size that a file cannot hold, or that the maker does not take on.
 */
export function checkSeparations(
  print: Print,
  options: SeparationOptions & PixelGridOptions & Pick<EmitSeparationsOptions, "edges" | "maker">,
): void {
  const [reason] = whyNotLinear(print);
  if (reason !== undefined) {
    throw new RepetendError("E_FEATURE", `the print is no sum of its inks: ${reason}`, { input: print.name });
  }
  const work = planeWork(print, options);
  const [kind, most] =
    options.format === "tiff" ? (["TIFF", TIFF_LIMIT] as const) : (["PNG", PNG_LIMIT] as const);
  for (const side of ["width", "height"] as const) checkSide(kind, side, work.grid.tile[side], most);
  planFilms(print, planesOf(print, work, []), options);
  options.maker?.check?.(work);
}

/** The ink planes of a print, made task by task as files are. */
async function makePlanes(print: Print, options: EmitSeparationsOptions): Promise<InkPlanes> {
  const { engine, maker = localMaker(engine), signal } = options;
  const work = planeWork(print, options);
  const bands: PlaneBand[] = [];
  for await (const made of makeAllBands(work, prepareWork(work).plan.tasks.length, maker, signal)) {
    for (const { planes } of made ?? []) if (planes !== undefined) bands.push(planes);
  }
  bands.sort((one, other) => one.y - other.y);
  return planesOf(print, work, bands);
}

/**
 * Writes the separations of a print: one grey PNG or TIFF an ink, in printing order, at the tile's size, all of one origin, so
 * that they register and close at the seams as the tile does. With hard edges and flat inks, or screened, they have one
 * bit a pixel. All of them come from one set of ink planes.
 *
 * @param print without filters, blend modes and pictures.
 * @param options `trap` lets lighter inks run on under darker ones by so much, over the seams too; `screen` turns tones
 * into dots; `underBase` adds the union of the light inks for dark cloth.
 * @throws `RepetendError` E_FEATURE for a print that is no sum of its inks; E_NUMBER, E_UNIT for options out of
 * range; E_INK for an ink of the under-base that the print lacks; E_FORMAT for a trap between more than 256 inks; E_TOO_LARGE for a
 * size that a file cannot hold; E_RENDER when the renderer fails; E_WRITE when a file cannot be written.
 *
 * @example
 * ```ts
 * import { straight } from "repetend";
 * import { emitSeparations } from "repetend/emit";
 * import { mkdtempSync } from "node:fs";
 * import { tmpdir } from "node:os";
 * import { join } from "node:path";
 * const print = straight({ name: "Plain", width: "1in", height: "1in", ground: "#f2ead8", motifs: [] });
 * const dir = mkdtempSync(join(tmpdir(), "films-"));
 * const { files } = await emitSeparations(print, { dpi: 100, dir, trap: "0.2mm" });
 * files.map((file) => file.path); // ["plain--01-f2ead8.png"]
 * ```
 */
export async function emitSeparations(
  print: Print,
  options: EmitSeparationsOptions,
): Promise<EmittedSeparations> {
  aPrint(print, "print");
  emitSeparationsOptions(options, "options");
  const { edges = "soft" } = options;
  checkSeparations(print, options);
  const planes = await makePlanes(print, options);
  const files = await writeSeparations(print, planes, options);
  const isFlat = planes.bands.every((band) => isPure(band.table));
  const { underBase } = options;
  const isBare =
    underBase !== undefined && underBaseInks(print, printingOrder(planes), underBase).length === 0;
  const notes = [...(edges === "hard" && !isFlat ? [NOT_FLAT] : []), ...(isBare ? [NO_UNDER_BASE] : [])];
  return { files, coverage: coverageOf(planes), notes };
}
