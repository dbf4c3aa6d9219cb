import type { Box } from "../../geometry/box.js";
import { type Print, tileExtent } from "../../repeat/index.js";
import { sayableScale } from "../page/picture-scale.js";

/** Windows of several prints under each other, as wide as each other and at one scale. */
export interface ClothFit {
  /** Mm of the page for a mm of cloth: one that can be said, at most true to size. */
  readonly scale: number;
  readonly width: number;
  /** Of each print's window, in mm of the page. */
  readonly heights: readonly number[];
}

/** Of an all-over print so many cells are shown at least, more of them in a strip beside a tall border. */
const CELLS = { alone: 1.5, beside: 2.4 } as const;
/** More repeats than this show nothing new. */
const REPEATS = 2;
/**
 * A small repeat beside a large one is shown so high, as a share of the large one, but no more cells of it; of cells so many
 * times smaller than the large one nothing would be seen.
 */
const STRIP = { share: 0.12, cells: 24, finest: 500 } as const;
/** Of a border so many repeats are shown at least. */
const BORDER_REPEATS = 1.2;

interface Need {
  readonly width: number;
  readonly height: number;
  /** Whether it is shown as high as it is, no more: a border from selvedge to selvedge. */
  readonly whole: boolean;
}

function needOf(print: Print, prints: readonly Print[]): Need {
  const tile = tileExtent(print, "rectangle");
  if (print.kind === "border")
    return { width: print.repeat * BORDER_REPEATS, height: print.width, whole: true };
  const down = prints.some(({ kind }) => kind === "border") ? CELLS.beside : CELLS.alone;
  const tallest = Math.max(...prints.map((one) => tileExtent(one, "rectangle").height));
  const isSeen = tallest <= STRIP.finest * print.height;
  const strip = isSeen ? Math.min(STRIP.share * tallest, STRIP.cells * print.height) : 0;
  return {
    width: Math.max(tile.width, CELLS.alone * print.width),
    height: Math.max(tile.height, down * print.height, strip),
    whole: false,
  };
}

/**
 * Lays windows of prints into a room: a border from selvedge to selvedge, of an all-over print at least one whole
 * repeat; what height is left goes to all-over prints. `undefined` where there is no room.
 *
 * @param apart mm of the page between two windows, names of prints counted in.
 */
export function fitCloth(
  prints: readonly Print[],
  room: { readonly width: number; readonly height: number },
  apart: number,
): ClothFit | undefined {
  const needs = prints.map((print) => needOf(print, prints));
  const high = room.height - (prints.length - 1) * apart;
  const total = needs.reduce((sum, { height }) => sum + height, 0);
  const exact = Math.min(high / total, ...needs.map(({ width }) => room.width / width));
  if (!(exact > 0)) return undefined;
  const scale = sayableScale(exact);
  const loose = needs.filter(({ whole }) => !whole).length;
  const spare = loose === 0 ? 0 : (high - total * scale) / loose;
  const heights = needs.map(({ height, whole }) => height * scale + (whole ? 0 : spare));
  return { scale, width: room.width, heights };
}

/** What of a print is seen in a window of the page: about the middle of its repeat. */
export function windowOf(print: Print, { scale, width }: ClothFit, height: number): Box {
  const tile = tileExtent(print, "rectangle");
  const [wide, high] = [width / scale, print.kind === "border" ? print.width : height / scale];
  return { x: (tile.width - wide) / 2, y: (tile.height - high) / 2, width: wide, height: high };
}

/** How much of the page shows something of the prints: repeats over and over do not count. In square mm. */
export function shownArea(prints: readonly Print[], { scale, width, heights }: ClothFit): number {
  const areas = prints.map((print, k) => {
    const { width: wide, height: high, whole } = needOf(print, prints);
    const across = Math.min(width, wide * scale * (whole ? REPEATS / BORDER_REPEATS : REPEATS));
    return across * Math.min(heights[k] ?? 0, whole ? Infinity : high * scale * REPEATS);
  });
  return areas.reduce((sum, area) => sum + area, 0);
}
