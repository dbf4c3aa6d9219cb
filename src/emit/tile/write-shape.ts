import { join } from "node:path";
import { isDeepStrictEqual } from "node:util";
import type { Note } from "../../errors.js";
import { countPasses, type Engine, hasTranslucency, whyNotLinear } from "../../raster/index.js";
import type { Print } from "../../repeat/index.js";
import { countBytes, type EncodedRows, type Encoding } from "../bands/encoding.js";
import type { BandMaker } from "../bands/maker.js";
import { type BandWork, makeBands, prepareWork } from "../bands/work.js";
import type { WrittenFile } from "../files/atomic.js";
import type { PlannedFile } from "../files/manifest.js";
import { encodingOf, type PictureStyle, pictureOf, takesPalette } from "./picture.js";
import { AS_DRAWN, type PlannedTileFile, type TilePlan } from "./plan.js";
import { type BandFile, writeBands } from "./write-bands.js";

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
export interface Writing {
  readonly plan: TilePlan;
  readonly dir: string;
  readonly edges: "soft" | "hard";
  readonly maker: BandMaker;
  readonly style: PictureStyle;
  readonly engine?: Engine;
  readonly signal?: AbortSignal;
  /** Whether a file stands there already, whole. */
  readonly isKnown: (planned: PlannedTileFile) => boolean;
  /** Called with the rows of a file that are drawn. */
  readonly onRows: (planned: PlannedTileFile, done: number) => void;
  /** Called when a file is whole, with what is to be said of the way in which it was made. */
  readonly finish: (planned: PlannedTileFile, written: WrittenFile, notes: readonly Note[]) => void;
}

/** What is known before anything is written. */
type Estimating = Pick<Writing, "plan" | "edges" | "style">;

/** The work that makes some files of one shape, and which of its encodings each file has. */
function planWork(
  { plan, edges, style }: Estimating,
  way: BandWork["way"],
  files: readonly PlannedTileFile[],
): { readonly work: BandWork; readonly places: readonly number[]; readonly down: number } {
  const { print, grid } = plan;
  // Files whose rows are stored alike share an encoding.
  const encodings: Encoding[] = [];
  const places = files.map((planned) => {
    const encoding = encodingOf(style, planned, way === "places", AS_DRAWN);
    const known = encodings.findIndex((one) => isDeepStrictEqual(one, encoding));
    return known >= 0 ? known : encodings.push(encoding) - 1;
  });
  const repeats = files[0]?.file.kind === "yardage" ? plan.repeats : { x: 1, y: 1 };
  return { work: { way, print, grid, edges, across: repeats.x, encodings }, places, down: repeats.y };
}

/** Writes files of one shape side by side; `false` for a palette that a print with mixed inks does not fit. */
async function writeSide(
  writing: Writing,
  way: BandWork["way"],
  files: readonly PlannedTileFile[],
  notes: readonly Note[],
): Promise<boolean> {
  const { dir, maker, style, signal, finish, onRows } = writing;
  const { work, places, down } = planWork(writing, way, files);
  const tell = (done: number): void => {
    for (const planned of files) onRows(planned, done);
  };
  tell(0);
  const targets = files.map(
    (planned, at): BandFile => ({
      path: join(dir, planned.file.path),
      picture: pictureOf(style, planned, way === "places"),
      encoding: places[at] ?? 0,
    }),
  );
  const written = await writeBands(work, targets, {
    plan: style.plan,
    maker,
    down,
    ...(signal === undefined ? {} : { signal }),
    onRows: (done) => tell(done * down),
  });
  if (written === undefined) return false;
  for (const [at, planned] of files.entries()) finish(planned, written[at] as WrittenFile, notes);
  return true;
}

/** Files that are made in one way, side by side. */
interface Side {
  readonly way: BandWork["way"];
  readonly files: readonly PlannedTileFile[];
}

/**
 * Which way files that are no palettes go, in the way that takes the fewest renderings. The way depends on the whole plan
 * and never on what is done already, since the ways round otherwise.
 */
function planSides(print: Print, files: readonly PlannedTileFile[]): readonly Side[] {
  const colourways = [...new Set(files.map((one) => one.colourway))];
  const isLinear = (): boolean => whyNotLinear(print).length === 0 && !hasTranslucency(print);
  if (isWorthPlanes(print, colourways.length) && isLinear()) return cutSides("planes", files);
  return colourways.map((colourway) => ({
    way: "direct",
    files: files.filter((one) => one.colourway === colourway),
  }));
}

function cutSides(way: BandWork["way"], files: readonly PlannedTileFile[]): readonly Side[] {
  const count = Math.ceil(files.length / SIDE_BY_SIDE);
  return Array.from({ length: count }, (_, at) => ({
    way,
    files: files.slice(at * SIDE_BY_SIDE, (at + 1) * SIDE_BY_SIDE),
  }));
}

/** The ways that are tried first; hard edges that turn out to be mixed take another one then. */
function firstSides({ plan, edges, style }: Estimating, files: readonly PlannedTileFile[]): readonly Side[] {
  const isFlat = edges === "hard" && whyNotLinear(plan.print).length === 0;
  const fits = isFlat ? files.filter(({ file }) => takesPalette(style, file)) : [];
  const rest = files.filter((planned) => !fits.includes(planned));
  return [...cutSides("places", fits), ...planSides(plan.print, rest)];
}

/** The kinds of files that are made in bands. */
export const SHAPES = ["tile", "yardage"] as const;

/** The pictures of a plan that are of one kind. */
export const picturesOf = (plan: TilePlan, kind: PlannedFile["kind"]): readonly PlannedTileFile[] =>
  plan.files.filter(({ file }) => file.kind === kind && file.format !== "svg");

/** The work that will be begun for some files of a plan. */
export function worksFirst(writing: Writing, open: readonly PlannedTileFile[]): readonly BandWork[] {
  return SHAPES.flatMap((kind) => firstSides(writing, picturesOf(writing.plan, kind)))
    .map(({ way, files }) => ({ way, files: files.filter((planned) => open.includes(planned)) }))
    .filter(({ files }) => files.length > 0)
    .map(({ way, files }) => planWork(writing, way, files).work);
}

/**
 * Writes pictures of one shape in all colourways.
 *
 * @returns what is to be said of the way in which they were made.
 */
export async function writeShape(
  writing: Writing,
  files: readonly PlannedTileFile[],
): Promise<readonly Note[]> {
  const { edges, signal, isKnown, style } = writing;
  const { print } = writing.plan;
  const notes: Note[] = [];
  const colourways = new Set(files.map((one) => one.colourway)).size;
  const [reason] = colourways > 1 || edges === "hard" ? whyNotLinear(print) : [];
  if (reason !== undefined) notes.push(notLinear(reason));
  const write = async (sides: readonly Side[]): Promise<boolean> => {
    for (const side of sides) {
      signal?.throwIfAborted();
      const open = side.files.filter((planned) => !isKnown(planned));
      if (open.length > 0 && !(await writeSide(writing, side.way, open, notes))) return false;
    }
    return true;
  };
  let rest = files;
  if (reason === undefined && edges === "hard") {
    const fits = files.filter(({ file }) => takesPalette(style, file));
    if (fits.length > 0 && (await write(cutSides("places", fits)))) {
      rest = files.filter((planned) => !fits.includes(planned));
    } else {
      notes.push(NOT_FLAT);
    }
  }
  if (rest.length === 0) return notes;
  if (colourways > 1 && reason === undefined && hasTranslucency(print)) notes.push(TRANSLUCENT);
  await write(planSides(print, rest));
  return notes;
}

/** What files of a tile will take, from making one band of them. */
export interface TileEstimate {
  readonly seconds: number;
  readonly bytes: number;
}

/** What files that are made in one way take; `undefined` for a palette that the print does not fit. */
async function estimateSide(
  writing: Estimating,
  { way, files }: Side,
  atOnce: number,
): Promise<TileEstimate | undefined> {
  const { work, places, down } = planWork(writing, way, files);
  const prepared = prepareWork(work);
  const { tasks, height } = prepared.plan;
  const start = performance.now();
  const made = await makeBands(prepared, Math.floor(tasks.length / 2));
  if (made === undefined) return undefined;
  const seconds = ((performance.now() - start) / 1000) * (tasks.length / Math.min(atOnce, tasks.length));
  const rows = made.reduce((sum, band) => sum + band.height, 0);
  const sizes = places.map((place) =>
    made.reduce((sum, band) => sum + countBytes(band.rows[place] as EncodedRows), 0),
  );
  const bytes = sizes.reduce((sum, size) => sum + (size * down * height) / Math.max(1, rows), 0);
  return { seconds, bytes };
}

/**
 * Estimates what pictures of one shape take: makes the middle band of them in this process, and counts up.
 *
 * @param atOnce how many bands will be made at a time.
 */
export async function estimateShape(
  writing: Estimating,
  files: readonly PlannedTileFile[],
  atOnce: number,
): Promise<TileEstimate> {
  let [seconds, bytes] = [0, 0];
  for (const first of firstSides(writing, files)) {
    const taken = await estimateSide(writing, first, atOnce);
    // Hard edges that turn out to be mixed are no palette, and take another way.
    const others = taken === undefined ? planSides(writing.plan.print, first.files) : [];
    const instead: (TileEstimate | undefined)[] = [taken];
    for (const other of others) instead.push(await estimateSide(writing, other, atOnce));
    for (const one of instead) {
      seconds += one?.seconds ?? 0;
      bytes += one?.bytes ?? 0;
    }
  }
  return { seconds, bytes: Math.round(bytes) };
}
