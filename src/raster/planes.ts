import { RepetendError } from "../errors.js";
import type { Box } from "../geometry/box.js";
import {
  BARE,
  BandWeigher,
  codeColours,
  type InkPlanes,
  type PixelImage,
  type PlaneBand,
  readCodes,
} from "../image/index.js";
import {
  inksOf,
  type PixelGrid,
  type PixelGridOptions,
  type Print,
  pixelGrid,
  pixelPrint,
  recolour,
} from "../repeat/index.js";
import { whyNotLinear } from "./linear.js";
import { narrowPrint, planPasses } from "./plane-passes.js";
import { type RenderPrintOptions, renderBand, rowsPerBand } from "./print-bands.js";

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
async function* runAhead<T>(work: Iterable<() => Promise<T>>): AsyncGenerator<T, void, undefined> {
  const under: Promise<T>[] = [];
  for (const start of work) {
    const promise = start();
    promise.catch(() => {}); // awaited below; a failure must not surface before that
    under.push(promise);
    if (under.length > AHEAD) yield await (under.shift() as Promise<T>);
  }
  for (const promise of under) yield await promise;
}

/** A print whose bare cloth is painted with an ink of its own, so that every pixel is opaque. */
interface Opaque {
  readonly onGrid: Print;
  /** Inks by their place in the planes. */
  readonly inks: readonly string[];
  readonly ground: string;
}

function makeOpaque(print: Print, grid: PixelGrid): Opaque {
  const drawn = inksOf(print).map((use) => use.ink);
  const ground = print.ground ?? findFree(drawn);
  const onGrid = { ...pixelPrint(print, grid), ground };
  return { onGrid, inks: print.ground === undefined ? [...drawn, ground] : drawn, ground };
}

/** A rendering of a band, and what its colours stand for. */
interface Pass {
  readonly box: Box;
  readonly image: PixelImage;
  /** The places of the inks that are red, green and blue. */
  readonly inks: readonly number[];
  readonly derived: number | undefined;
  /** Whether it is the band's last one. */
  readonly last: boolean;
}

/** One rendering a band, in which every ink has a colour of its own. */
function* codePasses({ onGrid, inks }: Opaque, boxes: readonly Box[], options: RenderPrintOptions) {
  const codes = codeColours(inks.length);
  const colourway = colourwayOf(inks.map((ink, place) => [ink, codes[place] ?? ""] as const));
  for (const box of boxes) {
    yield async () => {
      const { print } = narrowPrint(onGrid, box);
      return { box, image: await renderBand(recolour(print, colourway), box, options) };
    };
  }
}

/** A rendering for every three inks that a band shows. */
function* weightPasses({ onGrid, inks, ground }: Opaque, boxes: readonly Box[], options: RenderPrintOptions) {
  const place = (ink: string) => inks.indexOf(ink);
  for (const box of boxes) {
    const narrow = narrowPrint(onGrid, box);
    const { groups, derived } = planPasses(narrow.inks, ground);
    // A band of one ink is rendered all the same: it is the only way to see that nothing else is painted.
    for (const [at, group] of (groups.length > 0 ? groups : [[ground]]).entries()) {
      yield async (): Promise<Pass> => {
        const colourway = colourwayOf(
          narrow.inks.map((ink) => [ink, PURE[group.indexOf(ink)] ?? "#000000"] as const),
        );
        return {
          box,
          image: await renderBand(recolour(narrow.print, colourway), box, options),
          inks: group.map(place),
          derived: groups.length > 0 && derived !== undefined ? place(derived) : undefined,
          last: at >= groups.length - 1,
        };
      };
    }
  }
}

/**
 * The ink planes of a print's tile, band by band from the top: each takes a rendering for every three inks that show in
 * it, or, with hard edges and flat inks, one rendering for all of them.
 *
 * @param print the print in mm, without filters, blend modes and pictures (see {@link whyNotLinear}).
 * @throws `RepetendError` E_RENDER when the renderer fails.
 */
export async function* streamPlanes(
  print: Print,
  grid: PixelGrid,
  options: RenderPrintOptions = {},
): AsyncGenerator<PlaneBand, void, undefined> {
  const { width, height } = grid.tile;
  const opaque = makeOpaque(print, grid);
  const rows = rowsPerBand(width);
  const boxes = Array.from({ length: Math.ceil(height / rows) }, (_, band) => ({
    x: 0,
    y: band * rows,
    width,
    height: Math.min(rows, height - band * rows),
  }));
  let done = 0;
  if (options.edges === "hard") {
    const codes = new Map(codeColours(opaque.inks.length).map((code, place) => [code, place]));
    for await (const { box, image } of runAhead(codePasses(opaque, boxes, options))) {
      const band = readCodes(image, codes, box.y);
      // Where one band has shades between its inks, the others most likely have some too.
      if (band === undefined) break;
      done++;
      yield band;
    }
  }
  let weigher: BandWeigher | undefined;
  for await (const pass of runAhead(weightPasses(opaque, boxes.slice(done), options))) {
    weigher ??= new BandWeigher(pass.box.width, pass.box.height);
    weigher.add(pass);
    if (!pass.last) continue;
    yield weigher.finish(pass.box.y, pass.derived);
    weigher = undefined;
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
  const [reason] = whyNotLinear(print);
  if (reason !== undefined) {
    throw new RepetendError("E_FEATURE", `the print is no sum of its inks: ${reason}`, { input: print.name });
  }
  const grid = pixelGrid(print, options);
  const bands: PlaneBand[] = [];
  for await (const band of streamPlanes(print, grid, options)) bands.push(band);
  return {
    kind: "ink-planes",
    edges: options.edges ?? "soft",
    ...grid.tile,
    dpi: grid.dpi,
    inks: planeInks(print),
    bands,
  };
}
