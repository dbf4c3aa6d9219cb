import { RepetendError } from "../errors.js";
import {
  BARE,
  BandWeigher,
  codeColours,
  type InkPlanes,
  type PixelImage,
  type PlaneBand,
  readCodes,
} from "../image/index.js";
import { aPixelGrid, aPrint } from "../repeat/checks.js";
import {
  inksOf,
  type PixelGrid,
  type PixelGridOptions,
  type Print,
  pixelGrid,
  pixelPrint,
  recolour,
} from "../repeat/index.js";
import { type BandPlan, type BandTask, planBands } from "./band-plan.js";
import { aPlaneSource, renderOptions, streamOptions } from "./checks.js";
import { whyNotLinear } from "./linear.js";
import { narrowPrint, planPasses } from "./plane-passes.js";
import { joinParts, type RenderPrintOptions, renderParts } from "./print-bands.js";

/** The inks of a print's planes in order: most used first, bare cloth last where it may show. */
export function planeInks(print: Print): readonly string[] {
  const inks = inksOf(print).map((use) => use.ink);
  return print.ground === undefined ? [...inks, BARE] : inks;
}

/** A colour that is none of the inks, to paint bare cloth with. */
function findFree(inks: readonly string[]): string {
  for (let code = 0; ; code++) {
    const colour = `#${code.toString(16).padStart(6, "0")}`;
    if (!inks.includes(colour)) return colour;
  }
}

const colourwayOf = (entries: Iterable<readonly [string, string]>) =>
  ({ kind: "colourway", name: "planes", inks: Object.fromEntries(entries) }) as const;

const PURE = ["#ff0000", "#00ff00", "#0000ff"];

/** How many renderings are under way at once; more would fill the memory sooner than the cores. */
const AHEAD = 2;

/** Runs work in order, the next pieces under way while one is used. */
async function* runAhead<T>(
  work: Iterable<() => Promise<T>>,
  ahead: number,
): AsyncGenerator<T, void, undefined> {
  const under: Promise<T>[] = [];
  for (const start of work) {
    const promise = start();
    promise.catch(() => {}); // awaited below; a failure must not surface before that
    under.push(promise);
    if (under.length > ahead) yield await (under.shift() as Promise<T>);
  }
  for (const promise of under) yield await promise;
}

/** A print whose bare cloth is painted with an ink of its own, so that every pixel is opaque. */
export interface PlaneSource {
  readonly onGrid: Print;
  /** Inks by their place in the planes. */
  readonly inks: readonly string[];
  readonly ground: string;
  readonly plan: BandPlan;
}

/**
 * Makes a print ready for its ink planes.
 *
 * @throws `RepetendError` E_SIZE for a grid that is not the print's; E_ARGUMENT, E_NUMBER for values of a wrong kind.
 */
export function planeSource(print: Print, grid: PixelGrid): PlaneSource {
  aPrint(print, "print");
  aPixelGrid(grid, "grid");
  const drawn = inksOf(print).map((use) => use.ink);
  const ground = print.ground ?? findFree(drawn);
  const onGrid = { ...pixelPrint(print, grid), ground };
  const inks = print.ground === undefined ? [...drawn, ground] : drawn;
  return { onGrid, inks, ground, plan: planBands(onGrid, grid) };
}

/** Renderings of the parts of a task, and what their colours stand for. */
interface Pass {
  readonly task: BandTask;
  readonly parts: readonly PixelImage[];
  /** The places of the inks that are red, green and blue. */
  readonly inks: readonly number[];
  readonly derived: number | undefined;
  /** Whether it is the task's last one. */
  readonly last: boolean;
}

/** One rendering a part, in which every ink has a colour of its own. */
function* codePasses({ onGrid, inks }: PlaneSource, tasks: readonly BandTask[], options: RenderPrintOptions) {
  const codes = codeColours(inks.length);
  const colourway = colourwayOf(inks.map((ink, place) => [ink, codes[place] ?? ""] as const));
  for (const task of tasks) {
    yield async () => {
      const { print } = narrowPrint(onGrid, task.parts);
      return { task, parts: await renderParts(recolour(print, colourway), task, options) };
    };
  }
}

/** A rendering of each part for every three inks that a task shows. */
function* weightPasses(
  { onGrid, inks, ground }: PlaneSource,
  tasks: readonly BandTask[],
  options: RenderPrintOptions,
) {
  const place = (ink: string) => inks.indexOf(ink);
  for (const task of tasks) {
    const narrow = narrowPrint(onGrid, task.parts);
    const { groups, derived } = planPasses(narrow.inks, ground);
    // A band of one ink is rendered all the same: it is the only way to see that nothing else is painted.
    for (const [at, group] of (groups.length > 0 ? groups : [[ground]]).entries()) {
      yield async (): Promise<Pass> => {
        const colourway = colourwayOf(
          narrow.inks.map((ink) => [ink, PURE[group.indexOf(ink)] ?? "#000000"] as const),
        );
        return {
          task,
          parts: await renderParts(recolour(narrow.print, colourway), task, options),
          inks: group.map(place),
          derived: groups.length > 0 && derived !== undefined ? place(derived) : undefined,
          last: at >= groups.length - 1,
        };
      };
    }
  }
}

/** How {@link streamPlanes} renders. */
export interface StreamPlanesOptions extends RenderPrintOptions {
  /** Of the source's plan. Default: all. */
  readonly tasks?: readonly BandTask[];
  /** How many renderings are under way while one is taken in. Default 2. */
  readonly ahead?: number;
}

/**
 * The ink planes of a print's tile, task by task: each takes a rendering for every three inks that show in it, or, with
 * hard edges and flat inks, one rendering for all of them.
 *
 * @param source of a print without filters, blend modes and pictures (see {@link whyNotLinear}).
 * @returns the bands of each task; those of all tasks fill the tile.
 * @throws `RepetendError` E_RENDER when the renderer fails.
 */
export function streamPlanes(
  source: PlaneSource,
  options: StreamPlanesOptions = {},
): AsyncGenerator<readonly PlaneBand[], void, undefined> {
  aPlaneSource(source, "source");
  streamOptions(options, "options");
  return weighTasks(source, options);
}

async function* weighTasks(
  source: PlaneSource,
  options: StreamPlanesOptions,
): AsyncGenerator<readonly PlaneBand[], void, undefined> {
  const { tasks = source.plan.tasks, ahead = AHEAD } = options;
  let done = 0;
  if (options.edges === "hard") {
    const codes = new Map(codeColours(source.inks.length).map((code, place) => [code, place]));
    for await (const { task, parts } of runAhead(codePasses(source, tasks, options), ahead)) {
      const bands = task.bands.flatMap((band) => readCodes(joinParts(parts, band), codes, band.y) ?? []);
      // Where one band has shades between its inks, the others most likely have some too.
      if (bands.length < task.bands.length) break;
      done++;
      yield bands;
    }
  }
  let weighers: readonly BandWeigher[] = [];
  for await (const pass of runAhead(weightPasses(source, tasks.slice(done), options), ahead)) {
    const { task, parts, inks, derived } = pass;
    if (weighers.length === 0) {
      weighers = task.bands.map(({ height }) => new BandWeigher(source.plan.width, height));
    }
    for (const [at, band] of task.bands.entries()) {
      weighers[at]?.add({ image: joinParts(parts, band), inks });
    }
    if (!pass.last) continue;
    yield weighers.map((weigher, at) => weigher.finish(task.bands[at]?.y ?? 0, derived));
    weighers = [];
  }
}

/** How ink planes are rendered. */
export interface InkPlanesOptions extends PixelGridOptions, RenderPrintOptions {}

/**
 * The ink planes of a print: how much of each ink lies on each pixel, from one rendering for every three inks. Every
 * colourway, separation and coverage comes from them without a renderer.
 *
 * @param print the print.
 * @param options resolution, scale, shrinkage and edges; with "hard" and flat inks every pixel is one ink.
 * @throws `RepetendError` E_FEATURE for a print with filters, blend modes or pictures, which is no sum of its inks;
 * E_NUMBER, E_UNIT for options out of range; E_RENDER when the renderer fails.
 *
 * @example
 * ```ts
 * import { coverageOf, straight } from "repetend";
 * import { inkPlanes } from "repetend/raster";
 * const print = straight({ name: "Plain", width: "1in", height: "1in", ground: "#1b2a41", motifs: [] });
 * const planes = await inkPlanes(print, { dpi: 100 });
 * coverageOf(planes); // [{ ink: "#1b2a41", share: 1 }]
 * ```
 */
export async function inkPlanes(print: Print, options: InkPlanesOptions): Promise<InkPlanes> {
  aPrint(print, "print");
  renderOptions(options, "options");
  const [reason] = whyNotLinear(print);
  if (reason !== undefined) {
    throw new RepetendError("E_FEATURE", `the print is no sum of its inks: ${reason}`, { input: print.name });
  }
  const grid = pixelGrid(print, options);
  const bands: PlaneBand[] = [];
  for await (const some of streamPlanes(planeSource(print, grid), options)) bands.push(...some);
  bands.sort((one, other) => one.y - other.y);
  return {
    kind: "ink-planes",
    edges: options.edges ?? "soft",
    ...grid.tile,
    dpi: grid.dpi,
    inks: planeInks(print),
    bands,
  };
}
