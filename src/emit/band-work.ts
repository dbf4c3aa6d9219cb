import { setImmediate as nextTurn } from "node:timers/promises";
import {
  compositeBand,
  countMixes,
  cutBand,
  inksIn,
  isPure,
  mainInks,
  mixColours,
  type PixelImage,
  type PlaneBand,
  spreadBand,
} from "../image/index.js";
import {
  type BandPlan,
  type BandTask,
  cropImage,
  type Engine,
  joinParts,
  type PlaneSource,
  planBands,
  planeInks,
  planeSource,
  renderParts,
  repeatColumns,
  streamPlanes,
  type TileBand,
} from "../raster/index.js";
import { layersInWindow, type PixelGrid, type Print, pixelPrint, recolour } from "../repeat/index.js";
import { CmykConverter } from "./convert-colour.js";
import {
  type EncodedRows,
  type Encoding,
  type EncodingTools,
  encodeRows,
  joinRows,
  type OpenConverter,
} from "./encoding.js";
import { RowBuffers } from "./row-buffers.js";
import { CopyFinder } from "./run-copies.js";
import { writeRunPiece } from "./run-piece.js";
import { findTokens } from "./run-tokens.js";
import { type Zlib, zlibApart } from "./zlib.js";

/**
 * What has to be known to make the bands of some files: plain data, which can be sent to another process.
 *
 * - "direct": the print is rendered in one colourway;
 * - "planes": its ink planes are, and every colourway comes from them;
 * - "places": with hard edges, which ink each pixel has; only the palettes of the files differ.
 */
export interface BandWork {
  readonly way: "direct" | "planes" | "places";
  /** As large as it is printed, in mm. */
  readonly print: Print;
  readonly grid: PixelGrid;
  readonly edges: "soft" | "hard";
  /** How many tiles stand side by side in the file. */
  readonly across: number;
  /** One for every way in which rows are stored. */
  readonly encodings: readonly Encoding[];
  /** Whether the ink planes themselves are wanted, too. */
  readonly keepsPlanes?: boolean;
}

/** A band of the tile as it stands in the files. */
export interface MadeBand {
  readonly y: number;
  readonly height: number;
  /** In the order of the encodings. */
  readonly rows: readonly EncodedRows[];
  /** Where they are wanted. */
  readonly planes?: PlaneBand;
}

/** The bands of a task; `undefined` where pixels that should be one ink each are mixed. */
export type MadeBands = readonly MadeBand[] | undefined;

/** Work made ready: what all its tasks share. */
export interface PreparedWork extends EncodingTools {
  readonly work: BandWork;
  readonly plan: BandPlan;
  readonly onGrid: Print;
  readonly planes: PlaneSource | undefined;
  readonly finder: CopyFinder;
}

/** How tasks are worked off. */
export interface MakeBandsOptions {
  readonly engine?: Engine;
  readonly signal?: AbortSignal;
}

/** Rows of so many pixels are stored at a time where a file is wider than the tile. */
const ROWS_PIXELS = 2 ** 22;

/** Opens each profile once, for as long as the work goes on. */
function converters(): OpenConverter {
  const opened = new Map<string, Promise<CmykConverter>>();
  return (profile) => {
    const known = opened.get(profile) ?? CmykConverter.open(profile);
    opened.set(profile, known);
    return known;
  };
}

/** Makes work ready; rows are compressed on threads of Node's unless it is said how. */
export function prepareWork(work: BandWork, zlib: Zlib = zlibApart): PreparedWork {
  const { print, grid, way } = work;
  const shared = { work, zlib, finder: new CopyFinder(), open: converters(), buffers: new RowBuffers() };
  if (way !== "direct") {
    const planes = planeSource(print, grid);
    return { ...shared, plan: planes.plan, onGrid: planes.onGrid, planes };
  }
  const colourway = work.encodings[0]?.colourway;
  const onGrid = pixelPrint(colourway === undefined ? print : recolour(print, colourway), grid);
  return { ...shared, plan: planBands(onGrid, grid), onGrid, planes: undefined };
}

/** How many rows of a band are stored at a time. */
function rowsAtOnce({ work: { across }, plan: { width, strip } }: PreparedWork, height: number): number {
  if (across === 1) return height;
  const rows = Math.floor(ROWS_PIXELS / (width * across));
  return Math.min(height, Math.max(strip, rows - (rows % strip)));
}

function* cuts(prepared: PreparedWork, height: number) {
  const rows = rowsAtOnce(prepared, height);
  for (let y = 0; y < height; y += rows) yield { y, height: Math.min(rows, height - y) };
}

/** Stores rows of the tile in every encoding. Nothing here holds them while they are compressed. */
function storeRows(prepared: PreparedWork, tile: PixelImage): Promise<readonly EncodedRows[]> {
  const { across, encodings } = prepared.work;
  const rows = repeatColumns(tile, 0, tile.width * across);
  return Promise.all(encodings.map((encoding) => encodeRows(rows, encoding, prepared)));
}

/** Stores a rendered band, a few rows at a time. */
async function storeCuts(prepared: PreparedWork, band: PixelImage): Promise<readonly EncodedRows[]> {
  const stored: (readonly EncodedRows[])[] = [];
  for (const { y, height } of cuts(prepared, band.height)) {
    stored.push(await storeRows(prepared, cropImage(band, { x: 0, y, width: band.width, height })));
  }
  return prepared.work.encodings.map((_, at) => joinRows(stored.flatMap((some) => some[at] ?? [])));
}

/** A band of the tile from its rows. Apart from what makes them, that nothing here holds on to a picture. */
const bandOf = async ({ y, height }: TileBand, rows: Promise<MadeBand["rows"]>): Promise<MadeBand> => ({
  y,
  height,
  rows: await rows,
});

/** Stores the bands of rendered parts: the pictures are free as soon as their rows are packed. */
function storeParts(
  prepared: PreparedWork,
  { bands }: BandTask,
  parts: readonly PixelImage[],
): Promise<readonly MadeBand[]> {
  const store = prepared.work.across === 1 ? storeRows : storeCuts;
  return Promise.all(bands.map((band) => bandOf(band, store(prepared, joinParts(parts, band)))));
}

/** Stores ink planes in every colourway: repetitions are searched for once. */
async function storePlanes(prepared: PreparedWork, band: PlaneBand): Promise<readonly EncodedRows[]> {
  const { encodings, print } = prepared.work;
  const inks = planeInks(print);
  const runs = { rows: band.rows, ends: band.ends, values: band.mixes };
  const channels = print.ground === undefined ? 4 : 3;
  const tokens = encodings.some(({ format }) => format === "png")
    ? findTokens(runs, band, channels, countMixes(band.table), prepared.finder)
    : undefined;
  const stored: EncodedRows[] = [];
  for (const encoding of encodings) {
    const colours = inksIn({ inks }, encoding.colourway);
    if (encoding.format === "png" && tokens !== undefined) {
      await nextTurn(); // to begin the next rendering
      stored.push({ format: "png", pieces: [writeRunPiece(tokens, mixColours(band.table, colours))] });
      continue;
    }
    stored.push(await encodeRows(compositeBand(band, colours), encoding, prepared));
  }
  return stored;
}

/** Stores which ink each pixel has. */
function storePlaces(prepared: PreparedWork, band: PlaneBand): Promise<readonly EncodedRows[]> {
  const places = spreadBand(band, Uint8Array.from(mainInks(band.table).inks));
  return Promise.all(prepared.work.encodings.map((encoding) => encodeRows(places, encoding, prepared)));
}

/**
 * Makes the bands of one task, compressed as they stand in the files.
 *
 * @throws `RepetendError` E_RENDER when the renderer fails.
 */
export async function makeBands(
  prepared: PreparedWork,
  index: number,
  { engine, signal }: MakeBandsOptions = {},
): Promise<MadeBands> {
  const { work, plan, planes, onGrid } = prepared;
  const task = plan.tasks[index];
  if (task === undefined) throw new RangeError(`there is no task ${index}`);
  const rendering = {
    edges: work.edges,
    ...(engine === undefined ? {} : { engine }),
    ...(signal === undefined ? {} : { signal }),
  };
  if (planes === undefined) return storeParts(prepared, task, await renderParts(onGrid, task, rendering));
  const made: MadeBand[] = [];
  const store = work.way === "planes" ? storePlanes : storePlaces;
  for await (const bands of streamPlanes(planes, { ...rendering, tasks: [task], ahead: 1 })) {
    if (work.way === "places" && !bands.every(({ table }) => isPure(table))) return undefined;
    for (const band of bands) {
      const stored: (readonly EncodedRows[])[] = [];
      for (const { y, height } of cuts(prepared, band.height)) {
        stored.push(await store(prepared, cutBand(band, y, height, work.across)));
      }
      const rows = work.encodings.map((_, at) => joinRows(stored.flatMap((some) => some[at] ?? [])));
      const kept = work.keepsPlanes === true ? { planes: band } : {};
      made.push({ y: band.y, height: band.height, rows, ...kept });
    }
  }
  return made;
}

/** So many motifs are named in an error. */
const NAMED = 6;

/** What a task is about, for a person: its rows and the motifs in them. */
export function namesInTask(work: BandWork, index: number): string {
  const { plan, onGrid } = prepareWork(work);
  const task = plan.tasks[index];
  const names = new Set<string>();
  for (const part of task?.parts ?? []) {
    for (const layer of layersInWindow(onGrid, part)) {
      if (layer.kind === "motifs") for (const { motif } of layer.copies) names.add(motif.name);
    }
  }
  const rows = task?.bands.map(({ y, height }) => `${y} to ${y + height}`).join(", ");
  const named = [...names].slice(0, NAMED);
  const more = names.size > NAMED ? ` and ${names.size - NAMED} more` : "";
  return `rows ${rows}${names.size > 0 ? `, with ${named.join(", ")}${more}` : ""}`;
}
