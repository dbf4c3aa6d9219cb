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
} from "../../image/index.js";
import {
  type BandPlan,
  type BandTask,
  type Engine,
  type PlaneSource,
  planBands,
  planeInks,
  planeSource,
  renderNative,
  streamPlanes,
  type TileBand,
} from "../../raster/index.js";
import { drawPart, type PartDrawing, renderDrawing } from "../../raster/part-drawing.js";
import { layersInWindow, type PixelGrid, type Print, pixelPrint, recolour } from "../../repeat/index.js";
import { type Zlib, zlibApart } from "../deflate/zlib.js";
import { writeRunPiece } from "../png/run-piece.js";
import { findTokens } from "../png/run-tokens.js";
import { type EncodedRows, type Encoding, encodeRows, joinRows } from "./encoding.js";
import { cutRows, openStore, type RowsStore, type StoredBand, storeParts } from "./store-rows.js";

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
export interface MadeBand extends StoredBand {
  /** Where they are wanted. */
  readonly planes?: PlaneBand;
}

/** The bands of a task; `undefined` where pixels that should be one ink each are mixed. */
export type MadeBands = readonly MadeBand[] | undefined;

/** Work made ready: what all its tasks share. */
export interface PreparedWork {
  readonly work: BandWork;
  readonly plan: BandPlan;
  readonly onGrid: Print;
  readonly planes: PlaneSource | undefined;
  readonly rows: RowsStore;
}

/** A task of one colourway, drawn: plain data. */
export interface DrawnTask {
  readonly bands: readonly TileBand[];
  readonly parts: readonly PartDrawing[];
}

/** How tasks are worked off. */
export interface MakeBandsOptions {
  readonly engine?: Engine;
  readonly signal?: AbortSignal;
}

/** Makes work ready; rows are compressed on threads of Node's unless it is said how. */
export function prepareWork(work: BandWork, zlib: Zlib = zlibApart): PreparedWork {
  const { print, grid, way, across, encodings } = work;
  const storeOf = ({ width, strip }: BandPlan) => openStore({ width, strip, across, encodings }, zlib);
  if (way !== "direct") {
    const planes = planeSource(print, grid);
    const { plan, onGrid } = planes;
    return { work, plan, onGrid, planes, rows: storeOf(plan) };
  }
  const colourway = encodings[0]?.colourway;
  const onGrid = pixelPrint(colourway === undefined ? print : recolour(print, colourway), grid);
  const plan = planBands(onGrid, grid);
  return { work, plan, onGrid, planes: undefined, rows: storeOf(plan) };
}

/** Stores ink planes in every colourway: repetitions are searched for once. */
async function storePlanes(prepared: PreparedWork, band: PlaneBand): Promise<readonly EncodedRows[]> {
  const { encodings, print } = prepared.work;
  const inks = planeInks(print);
  const runs = { rows: band.rows, ends: band.ends, values: band.mixes };
  const channels = print.ground === undefined ? 4 : 3;
  const tokens = encodings.some(({ format }) => format === "png")
    ? findTokens(runs, band, channels, countMixes(band.table), prepared.rows.finder)
    : undefined;
  const stored: EncodedRows[] = [];
  for (const encoding of encodings) {
    const colours = inksIn({ inks }, encoding.colourway);
    if (encoding.format === "png" && tokens !== undefined) {
      await nextTurn(); // to begin the next rendering
      stored.push({ format: "png", pieces: [writeRunPiece(tokens, mixColours(band.table, colours))] });
      continue;
    }
    stored.push(await encodeRows(compositeBand(band, colours), encoding, prepared.rows));
  }
  return stored;
}

/** Stores which ink each pixel has. */
function storePlaces(prepared: PreparedWork, band: PlaneBand): Promise<readonly EncodedRows[]> {
  const places = spreadBand(band, Uint8Array.from(mainInks(band.table).inks));
  return Promise.all(prepared.work.encodings.map((encoding) => encodeRows(places, encoding, prepared.rows)));
}

/** Draws a task of one colourway. */
export function drawTask({ work, onGrid }: PreparedWork, { bands, parts }: BandTask): DrawnTask {
  return { bands, parts: parts.map((part) => drawPart(onGrid, part, work.edges)) };
}

async function renderAll(
  parts: readonly PartDrawing[],
  engine: Engine,
  signal?: AbortSignal,
): Promise<readonly PixelImage[]> {
  const rendered: PixelImage[] = [];
  for (const part of parts) rendered.push(await renderDrawing(part, engine, signal));
  return rendered;
}

/**
 * Makes the bands of a task that is drawn already, compressed as they stand in the files.
 *
 * @throws `RepetendError` E_RENDER when the renderer fails.
 */
export async function makeDrawn(
  rows: RowsStore,
  { bands, parts }: DrawnTask,
  engine: Engine = renderNative,
  signal?: AbortSignal,
): Promise<readonly StoredBand[]> {
  return storeParts(rows, bands, await renderAll(parts, engine, signal));
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
  const { work, plan, planes, rows: shared } = prepared;
  const task = plan.tasks[index];
  if (task === undefined) throw new RangeError(`there is no task ${index}`);
  if (planes === undefined) return makeDrawn(shared, drawTask(prepared, task), engine, signal);
  const rendering = {
    edges: work.edges,
    ...(engine === undefined ? {} : { engine }),
    ...(signal === undefined ? {} : { signal }),
  };
  const made: MadeBand[] = [];
  const store = work.way === "planes" ? storePlanes : storePlaces;
  for await (const bands of streamPlanes(planes, { ...rendering, tasks: [task], ahead: 1 })) {
    if (work.way === "places" && !bands.every(({ table }) => isPure(table))) return undefined;
    for (const band of bands) {
      const stored: (readonly EncodedRows[])[] = [];
      for (const { y, height } of cutRows(shared.work, band.height)) {
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
export function namesInTask({ plan, onGrid }: PreparedWork, index: number): string {
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
