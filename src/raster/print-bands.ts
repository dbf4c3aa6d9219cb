import { listOf } from "../checks.js";
import { RepetendError } from "../errors.js";
import type { Box } from "../geometry/box.js";
import { aSide } from "../image/checks.js";
import type { PixelImage } from "../image/index.js";
import { aPixelGrid, aPrint } from "../repeat/checks.js";
import { type PixelGrid, type PixelGridOptions, type Print, pixelGrid, pixelPrint } from "../repeat/index.js";
import { type BandTask, planBands, type TileBand } from "./band-plan.js";
import { aBand, aTask, aWholeImage, checkInside, renderOptions, windowOptions } from "./checks.js";
import { clearImage, cropImage, pasteImage } from "./crop.js";
import type { Engine } from "./engine.js";
import { renderNative } from "./native.js";
import { drawPart, renderDrawing } from "./part-drawing.js";

/** Rows at a time of what lies beyond a selvedge. */
const BARE_ROWS = 256;

/** How the pixels of a print are rendered. */
export interface RenderPrintOptions {
  /** "hard": no anti-aliasing, every pixel is one ink. Default "soft". */
  readonly edges?: "soft" | "hard";
  /** Default: the native engine. */
  readonly engine?: Engine;
  /** Stops between two renders; its reason is thrown. */
  readonly signal?: AbortSignal;
}

/**
 * Renders the parts of a task, one after the other.
 *
 * @throws `RepetendError` E_RENDER when the renderer fails; E_ARGUMENT for values of a wrong kind.
 */
export async function renderParts(
  onGrid: Print,
  task: BandTask,
  options: RenderPrintOptions,
): Promise<readonly PixelImage[]> {
  aPrint(onGrid, "onGrid");
  aTask(task, "task");
  renderOptions(options, "options");
  const { edges, engine = renderNative, signal } = options;
  const parts: PixelImage[] = [];
  for (const part of task.parts) {
    signal?.throwIfAborted();
    parts.push(await renderDrawing(drawPart(onGrid, part, edges), engine, signal));
  }
  return parts;
}

/**
 * Puts a band of the tile together from the rendered parts of its task.
 *
 * @throws `RepetendError` E_IMAGE for parts that are not the band's; E_ARGUMENT for values of a wrong kind.
 */
export function joinParts(parts: readonly PixelImage[], band: TileBand): PixelImage {
  listOf(aWholeImage)(parts, "parts");
  aBand(band, "band");
  const { height, patches } = band;
  const [first] = patches;
  const only = patches.length === 1 && first !== undefined ? parts[first.part] : undefined;
  if (only !== undefined && first?.width === only.width) return only;
  const width = patches.reduce((sum, patch) => sum + patch.width, 0);
  const whole = clearImage(width, height);
  for (const { part, from, to, width } of patches) {
    const image = parts[part];
    if (image !== undefined) pasteImage(cropImage(image, { x: from, y: 0, width, height }), whole, to, 0);
  }
  return whole;
}

const wrap = (value: number, period: number): number => ((value % period) + period) % period;

/**
 * Part of a rendered band, its columns repeated from `x` on for `width` pixels.
 *
 * @param x a column of the band.
 * @throws `RepetendError` E_IMAGE for places that are none; E_ARGUMENT for values of a wrong kind.
 */
export function repeatColumns(band: PixelImage, x: number, width: number): PixelImage {
  aWholeImage(band, "band");
  aSide(width, "width");
  checkInside(band, { x, y: 0, width: 1, height: 1 });
  if (x === 0 && width === band.width) return band;
  if (x + width <= band.width) return cropImage(band, { x, y: 0, width, height: band.height });
  const stride = width * band.channels;
  const whole: PixelImage = { ...band, width, stride, data: new Uint8Array(stride * band.height) };
  for (let to = 0, from = x; to < width; from = 0) {
    const part = { x: from, y: 0, width: Math.min(band.width - from, width - to), height: band.height };
    pasteImage(cropImage(band, part), whole, to, 0);
    to += part.width;
  }
  return whole;
}

/**
 * A window of a print in pixels, band by band from the top, each of the window's full width. Memory depends on the
 * width, not on the height. The bands that are rendered are always those of the tile, and any other window repeats
 * their pixels: so the tile laid edge to edge is the field to the last bit, whatever a renderer makes of a position.
 *
 * @param print the print in mm.
 * @param grid its pixel grid.
 * @param options `window` in whole pixels of the endless field (default: the tile), edges, engine, signal.
 * @returns RGBA bands, not premultiplied; their heights add up to the window's.
 * @throws `RepetendError` E_RENDER; E_SIZE for a window that is not whole pixels, or a grid that is not the print's;
 * E_ARGUMENT, E_NUMBER for values of a wrong kind.
 */
export function renderBands(
  print: Print,
  grid: PixelGrid,
  options: RenderPrintOptions & { readonly window?: Box } = {},
): AsyncGenerator<PixelImage, void, undefined> {
  aPrint(print, "print");
  aPixelGrid(grid, "grid");
  windowOptions(options, "options");
  return drawBands(print, grid, options);
}

async function* drawBands(
  print: Print,
  grid: PixelGrid,
  options: RenderPrintOptions & { readonly window?: Box },
): AsyncGenerator<PixelImage, void, undefined> {
  const { tile } = grid;
  const window = options.window ?? { x: 0, y: 0, ...tile };
  if (![window.x, window.y, window.width, window.height].every(Number.isInteger) || window.width < 1) {
    throw new RepetendError("E_SIZE", "a window of a print is whole pixels", {
      value: `${window.x} ${window.y} ${window.width} ${window.height}`,
    });
  }
  const onGrid = pixelPrint(print, grid);
  const plan = planBands(onGrid, grid);
  let known: { readonly y: number; readonly image: PixelImage } | undefined;
  const bandAt = async (row: number): Promise<{ readonly y: number; readonly image: PixelImage }> => {
    if (known !== undefined && row >= known.y && row < known.y + known.image.height) return known;
    for (const task of plan.tasks) {
      const band = task.bands.find(({ y, height }) => row >= y && row < y + height);
      if (band === undefined) continue;
      known = { y: band.y, image: joinParts(await renderParts(onGrid, task, options), band) };
      return known;
    }
    throw new RepetendError("E_SIZE", "a tile has no such row", { value: String(row) });
  };
  const bottom = window.y + window.height;
  for (let y = window.y; y < bottom; ) {
    if (print.kind === "border" && (y < 0 || y >= tile.height)) {
      const height = Math.min(BARE_ROWS, (y < 0 ? Math.min(0, bottom) : bottom) - y);
      yield clearImage(window.width, height);
      y += height;
      continue;
    }
    const inTile = wrap(y, tile.height);
    const { y: top, image } = await bandAt(inTile);
    const height = Math.min(image.height - (inTile - top), bottom - y);
    const part = cropImage(image, { x: 0, y: inTile - top, width: tile.width, height });
    yield repeatColumns(part, wrap(window.x, tile.width), window.width);
    y += height;
  }
}

/** The largest picture that is handed back in one piece: 1 GiB. */
const PIXEL_LIMIT = 2 ** 28;

/**
 * A print in pixels, in one piece: its tile, or any window of the endless field.
 *
 * @param print the print.
 * @param options resolution, scale, shrinkage and edges; `window` in whole pixels of the field, default the tile.
 * @returns RGBA, not premultiplied, with the resolution at which it is true to size.
 * @throws `RepetendError` E_NUMBER, E_UNIT for options out of range; E_TOO_LARGE above 2^28 pixels; E_RENDER.
 *
 * @example
 * ```ts
 * import { straight } from "repetend";
 * import { rasterisePrint } from "repetend/raster";
 * const print = straight({ name: "Plain", width: "1in", height: "1in", ground: "#1b2a41", motifs: [] });
 * const image = await rasterisePrint(print, { dpi: 100 });
 * console.log(image.width, image.height, image.data[0]); // 100 100 27
 * ```
 */
export async function rasterisePrint(
  print: Print,
  options: PixelGridOptions & RenderPrintOptions & { readonly window?: Box },
): Promise<PixelImage> {
  renderOptions(options, "options");
  const grid = pixelGrid(print, options);
  const { width, height } = options.window ?? grid.tile;
  if (width * height > PIXEL_LIMIT) {
    throw new RepetendError("E_TOO_LARGE", "the print is too large for one picture in memory", {
      value: `${width} x ${height} px`,
      accepted: `at most ${PIXEL_LIMIT} px in all`,
    });
  }
  const whole = { ...clearImage(width, height), dpi: grid.dpi };
  let y = 0;
  for await (const band of renderBands(print, grid, options)) {
    pasteImage(band, whole, 0, y);
    y += band.height;
  }
  return whole;
}
