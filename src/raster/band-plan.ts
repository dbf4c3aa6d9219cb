import { RepetendError } from "../errors.js";
import type { Box } from "../geometry/box.js";
import { aPixelGrid, aPrint } from "../repeat/checks.js";
import type { PixelGrid, Print } from "../repeat/index.js";
import { commonDivisor } from "../units/ratio.js";

/** Where pixels of a rendered part stand in a band: columns `from` on, `width` of them, moved to the column `to`. */
export interface BandPatch {
  /** Place of the part in the task. */
  readonly part: number;
  readonly from: number;
  readonly to: number;
  readonly width: number;
}

/** Rows of a tile, put together from rendered parts. */
export interface TileBand {
  readonly y: number;
  readonly height: number;
  /** From left to right; they fill the tile's width. */
  readonly patches: readonly BandPatch[];
}

/** What is rendered together, and the bands of the tile that come of it. */
export interface BandTask {
  /** Windows of the field in pixels, each of the bands' height. */
  readonly parts: readonly Box[];
  readonly bands: readonly TileBand[];
}

/** The bands of a print's tile. */
export interface BandPlan {
  readonly width: number;
  readonly height: number;
  /** Every band starts on a multiple of so many rows, and the tile ends on one: for files of the tile many times over. */
  readonly unit: number;
  /** Every band starts on a multiple of so many rows: for files of the tile once. */
  readonly strip: number;
  readonly tasks: readonly BandTask[];
}

/**
 * Rendered around every window and cut off again, in pixels. Renderers clip paths at the canvas edge, which changes
 * anti-aliasing along the whole of a clipped curve. Of a print of 600 motifs at 300 dpi, up to 700 px wide, 0.7 samples in
 * 10,000 differed by more than 2 levels from the same bands with 1,000 px around them, 0.4 with 192; of all bands drawn
 * in one go 1.0, since there places are less exact the further down they are. 96 px take 4 % less time to draw; of large shapes
 * all over a tile 1.4 samples differed so then.
 */
export const OVERSCAN = 128;

/**
 * A rendering has at most this many pixels without its overscan, a little less than 16 MiB: two pictures of that size
 * share a block of the native renderer's memory. 62 megapixels of a print of 600 motifs took 1.1 s of processor time in
 * pieces of 9 MiB, and 0.8 s in pieces of this size; with 17 MiB a process took up to 50 MB more.
 */
const PICTURE_PIXELS = 2 ** 22 - 2 ** 16;

/** A band has at least so many rows, that overscan costs less than the band. */
const BAND_ROWS = { least: 384, most: 4096 };

/** Bands of tiles up to this width are rendered in one piece each. */
export const WIDEST_PIECE: number = Math.floor(PICTURE_PIXELS / BAND_ROWS.least);

/** How wide the renderings of a part of this height may be, without their overscan. */
export function pieceWidth(height: number): number {
  return Math.max(1, Math.floor(PICTURE_PIXELS / height));
}

/** Files of strips have so many rows in each at most, and not fewer than the second where that can be had. */
const STRIP = 64;
const LEAST_STRIP = 16;

/** Rows of each band of a picture of this width, a multiple of `unit`. */
function rowsPerBand(width: number, unit: number): number {
  const fit = Math.floor(PICTURE_PIXELS / width);
  const rows = Math.min(BAND_ROWS.most, Math.max(BAND_ROWS.least, fit));
  return Math.max(unit, rows - (rows % unit));
}

/** The largest divisor up to {@link STRIP}. */
function unitOf(rows: number): number {
  let unit = Math.min(STRIP, rows);
  while (rows % unit !== 0) unit--;
  return unit;
}

/** Rows in which something with a number of repeats shows. */
interface Repeated {
  readonly count: number;
  readonly from: number;
  readonly to: number;
}

/** The motifs of a border's bands by the rows they reach into. */
function repeatedRows(onGrid: Print): readonly Repeated[] {
  if (onGrid.kind !== "border") return [];
  return onGrid.bands.flatMap(({ count, motifs, clip, from, to }) =>
    motifs.map(({ reach }) => ({
      count,
      from: clip ? Math.max(from, reach.y) : reach.y,
      to: clip ? Math.min(to, reach.y + reach.height) : reach.y + reach.height,
    })),
  );
}

/** Into how many equal pieces of whole pixels the rows of a border are divided by everything that they show. */
function piecesAlong(
  onGrid: Print,
  motifs: readonly Repeated[],
  width: number,
  y: number,
  height: number,
): number {
  if (onGrid.kind !== "border") return 1;
  let pieces = width;
  for (const { count, from, to } of motifs) {
    if (to >= y && from <= y + height) pieces = commonDivisor(pieces, count);
    if (pieces === 1) break;
  }
  return pieces;
}

function* spans(height: number, rows: number): Generator<{ readonly y: number; readonly height: number }> {
  for (let y = 0; y < height; y += rows) yield { y, height: Math.min(rows, height - y) };
}

const wrap = (value: number, period: number): number => ((value % period) + period) % period;

/** The bands of a task wait for each other: those of up to two tiles' widths, as of a half-drop, do not matter. */
const shareOf = (bands: number): number => Math.max(1, bands / 2);

/** A half-drop and its like: in each column of cells, the blocks of a cell stand in another order. */
function planColumns({ cell, tile, offset }: PixelGrid): BandPlan {
  const columns = tile.width / cell.width;
  const block = cell.height / columns;
  const unit = unitOf(block);
  const rows = rowsPerBand(tile.width * shareOf(columns), unit);
  const step = offset.y / block;
  const tasks = [...spans(block, rows)].map(({ y, height }): BandTask => {
    const parts = Array.from({ length: columns }, (_, at) => ({
      x: 0,
      y: at * block + y,
      width: cell.width,
      height,
    }));
    const bands = parts.map(
      (part, at): TileBand => ({
        y: part.y,
        height,
        patches: Array.from({ length: columns }, (_, column) => ({
          part: wrap(at - column * step, columns),
          from: 0,
          to: column * cell.width,
          width: cell.width,
        })),
      }),
    );
    return { parts, bands };
  });
  return { ...tile, unit, strip: unit, tasks };
}

/** A brick and its like: each row of cells is the one above, moved along. */
function planRows({ cell, tile, offset }: PixelGrid): BandPlan {
  const cells = tile.height / cell.height;
  const unit = unitOf(cell.height);
  const rows = rowsPerBand(tile.width * shareOf(cells), unit);
  const tasks = [...spans(cell.height, rows)].map(({ y, height }): BandTask => {
    const bands = Array.from({ length: cells }, (_, row): TileBand => {
      const moved = wrap(row * offset.x, cell.width);
      const patches = [
        { part: 0, from: cell.width - moved, to: 0, width: moved },
        { part: 0, from: 0, to: moved, width: cell.width - moved },
      ];
      return { y: row * cell.height + y, height, patches: patches.filter((patch) => patch.width > 0) };
    });
    return { parts: [{ x: 0, y, width: cell.width, height }], bands };
  });
  return { ...tile, unit, strip: unit, tasks };
}

/** Refuses a grid whose cells do not fill its tile in whole pixels: no `pixelGrid` has made it. */
function checkWhole({ cell, tile, offset }: PixelGrid): void {
  const columns = tile.width / cell.width;
  const block = cell.height / columns;
  const whole =
    offset.y > 0
      ? [columns, block, offset.y / block]
      : offset.x > 0
        ? [tile.height / cell.height, offset.x]
        : [];
  if (whole.every(Number.isInteger)) return;
  throw new RepetendError("E_SIZE", "the cells of a pixel grid do not fill its tile", {
    where: "grid",
    value: `${cell.width} x ${cell.height} px in ${tile.width} x ${tile.height} px`,
    accepted: "the print's own, from pixelGrid()",
  });
}

/**
 * Cuts a tile into bands, and finds what has to be rendered for them: a half-drop's or brick's pixels stand in it several
 * times, and bands of a border with a short period many times. Whole pixels were solved so that these copies are exact.
 * The plan depends on the print and its pixels alone, so that bytes are the same everywhere.
 *
 * @param onGrid the print on its pixel grid.
 * @throws `RepetendError` E_SIZE for a grid that is not the print's; E_ARGUMENT, E_NUMBER for values of a wrong kind.
 */
export function planBands(onGrid: Print, grid: PixelGrid): BandPlan {
  aPrint(onGrid, "onGrid");
  aPixelGrid(grid, "grid");
  checkWhole(grid);
  const { tile, offset } = grid;
  if (offset.y > 0) return planColumns(grid);
  if (offset.x > 0) return planRows(grid);
  const unit = unitOf(tile.height);
  const strip = unit < LEAST_STRIP ? STRIP - (STRIP % unit) : unit;
  const rows = rowsPerBand(tile.width, strip);
  const motifs = repeatedRows(onGrid);
  const tasks = [...spans(tile.height, rows)].map(({ y, height }): BandTask => {
    const pieces = piecesAlong(onGrid, motifs, tile.width, y, height);
    const width = tile.width / pieces;
    const patches = Array.from({ length: pieces }, (_, at) => ({ part: 0, from: 0, to: at * width, width }));
    return { parts: [{ x: 0, y, width, height }], bands: [{ y, height, patches }] };
  });
  return { ...tile, unit, strip, tasks };
}
