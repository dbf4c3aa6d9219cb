import type { Colourway } from "../colour/index.js";
import { inksOf, measureWords, type Print } from "../repeat/index.js";
import type { SvgElement } from "../svg/index.js";
import { writeFigure } from "./figures.js";
import { drawChip, TONES, TRACK, writeIn } from "./page.js";
import type { Paper } from "./paper.js";
import type { BoardPrint } from "./types.js";

/** An ink as drawn, and what it covers of each print's cloth, in per cent, where that is known. */
export interface BoardInk {
  readonly ink: string;
  readonly covers: string | undefined;
}

/** The inks of a board in one order for all its colourways: those of the first print, then what others add. */
export function listBoardInks(prints: readonly BoardPrint[]): readonly BoardInk[] {
  const inks = [...new Set(prints.flatMap(({ print }) => inksOf(print).map(({ ink }) => ink)))];
  return inks.map((ink) => ({ ink, covers: writeCovers(ink, prints) }));
}

function writeCovers(ink: string, prints: readonly BoardPrint[]): string | undefined {
  const shares = prints.map(({ coverage }) => coverage?.find((one) => one.ink === ink)?.share);
  if (shares.every((share) => share === undefined)) return undefined;
  const written = shares.map((share, k) => {
    if (share !== undefined) return writeShare(share);
    return hasInk(prints[k]?.print, ink) ? "?" : "\u2013";
  });
  return `${written.join(" \u00b7 ")} %`;
}

const hasInk = (print: Print | undefined, ink: string): boolean =>
  print !== undefined && inksOf(print).some((one) => one.ink === ink);

/** Whole per cents, and tenths where there is little. */
const writeShare = (share: number): string => writeFigure(share * 100, share < 0.0995 ? 1 : 0);

/** In units of the paper. */
const CHIP = { width: 5.4, high: 5, low: 2.6 } as const;
const BEHIND = 1.4;
const BETWEEN = 3.6;

/** How the swatches of a card lie. */
export interface SwatchGrid {
  readonly columns: number;
  readonly shown: number;
  readonly pitch: number;
  readonly height: number;
}

/** As many swatches as fit in a width, in rows of a height. */
export function fitSwatches(
  inks: readonly BoardInk[],
  width: number,
  mostHeight: number,
  { unit, capitals }: Paper,
): SwatchGrid {
  const high = inks.some(({ covers }) => covers !== undefined);
  const pitch = (high ? CHIP.high + 1.7 : CHIP.low + 1.5) * unit;
  // Room for any figures, so that what they are does not change how a board is laid out.
  const words = inks
    .flatMap(({ covers }) => covers?.replace(/[^ \u00b7%]+/g, "8.8") ?? [])
    .map((one) => measureWords(one, capitals.small, TRACK));
  const least =
    (CHIP.width + BEHIND + BETWEEN) * unit +
    Math.max(measureWords("#dddddd", capitals.small, TRACK), ...words);
  const across = Math.max(1, Math.floor((width + BETWEEN * unit) / least));
  const rows = Math.max(1, Math.min(Math.ceil(inks.length / across), Math.floor(mostHeight / pitch)));
  const shown = inks.length <= rows * across ? inks.length : rows * across - 1;
  // Rows as long as each other, where nothing is cut.
  const columns = shown === inks.length ? Math.max(1, Math.ceil(inks.length / rows)) : across;
  return { columns, shown, pitch, height: rows * pitch };
}

/** The inks of a colourway, each with its hex and what it covers. */
export function drawSwatches(
  inks: readonly BoardInk[],
  { inks: to }: Colourway,
  { columns, shown, pitch }: SwatchGrid,
  place: { readonly x: number; readonly y: number; readonly width: number },
  { unit, capitals }: Paper,
): readonly SvgElement[] {
  const step = place.width / columns;
  const high = inks.some(({ covers }) => covers !== undefined);
  const chip = { width: CHIP.width * unit, height: (high ? CHIP.high : CHIP.low) * unit };
  const room = step - chip.width - (BEHIND + 0.6) * unit;
  const small = { capital: capitals.small };
  const at = (k: number) => ({
    x: place.x + (k % columns) * step,
    y: place.y + Math.floor(k / columns) * pitch,
  });
  const swatches = inks.slice(0, shown).flatMap(({ ink, covers }, k) => {
    const { x, y } = at(k);
    const [words, shade] = [x + chip.width + BEHIND * unit, to[ink] ?? ink];
    const first = high ? y + 0.25 * unit + capitals.small : y + (chip.height + capitals.small) / 2;
    const second = y + chip.height - 0.25 * unit;
    return [
      drawChip({ x, y, ...chip }, shade),
      writeIn(shade, words, first, room, small),
      ...(covers === undefined ? [] : [writeIn(covers, words, second, room, { ...small, ink: TONES.grey })]),
    ];
  });
  if (shown === inks.length) return swatches;
  const { x, y } = at(shown);
  const more = `and ${inks.length - shown} more`;
  return [
    ...swatches,
    writeIn(more, x, y + 0.25 * unit + capitals.small, step, { ...small, ink: TONES.grey }),
  ];
}
