import { type Colourway, pickColourway } from "../../colour/index.js";
import { inksOf, measureWords } from "../../repeat/index.js";
import type { SvgElement } from "../../svg/index.js";
import { writeFigure } from "../page/figures.js";
import { drawChip, TONES, TRACK, writeIn } from "../page/page.js";
import type { Paper } from "../page/paper.js";
import type { BoardPrint } from "../types.js";

/** An ink of a board. */
export interface BoardInk {
  /** What it is in each colourway of the board, in order. */
  readonly shades: readonly string[];
  /** What it covers of each print's cloth, in per cent, where that is known. */
  readonly covers: string | undefined;
}

/**
 * The inks of a board in one order for all its colourways: those of the first print, then what others add. An ink of which
 * the prints' own tables make different ones is listed for each of them.
 */
export function listBoardInks(
  prints: readonly BoardPrint[],
  colourways: readonly Colourway[],
): readonly BoardInk[] {
  const found = new Map<string, { ink: string; shades: readonly string[]; on: Set<BoardPrint> }>();
  for (const one of prints) {
    const tables = colourways.map((colourway) => pickColourway(one.colourways, colourway).inks);
    for (const { ink } of inksOf(one.print)) {
      const shades = tables.map((inks) => inks[ink] ?? ink);
      const key = [ink, ...shades].join();
      const { on } = found.get(key) ?? { on: new Set() };
      found.set(key, { ink, shades, on: on.add(one) });
    }
  }
  return [...found.values()].map(({ ink, shades, on }) => ({ shades, covers: writeCovers(ink, prints, on) }));
}

/** @param on the prints that have this ink. */
function writeCovers(
  ink: string,
  prints: readonly BoardPrint[],
  on: ReadonlySet<BoardPrint>,
): string | undefined {
  const shareOf = ({ coverage }: BoardPrint) => coverage?.find((one) => one.ink === ink)?.share;
  if ([...on].every((one) => shareOf(one) === undefined)) return undefined;
  const written = prints.map((one) => {
    if (!on.has(one)) return "\u2013";
    const share = shareOf(one);
    return share === undefined ? "?" : writeShare(share);
  });
  return `${written.join(" \u00b7 ")} %`;
}

/** Whole per cents, and tenths where there is little. */
const writeShare = (share: number): string => writeFigure(share * 100, share < 0.0995 ? 1 : 0);

/** How a swatch is drawn, in units of the paper. */
interface SwatchForm {
  readonly chip: { readonly width: number; readonly height: number };
  /** From a row to the next one. */
  readonly below: number;
  /** Between swatches side by side. */
  readonly between: number;
  /** Whether what an ink covers stands under its hex; else beside it. */
  readonly isStacked: boolean;
}

/** From a chip to its words, and from a hex to what stands beside it, in units of the paper. */
const BEHIND = 1.4;

/** With what inks cover under their hex, with one line an ink, and as dense as can be read. */
const STACKED: SwatchForm = { chip: { width: 5.4, height: 5 }, below: 1.7, between: 3.6, isStacked: true };
const LOW: SwatchForm = { chip: { width: 5.4, height: 2.6 }, below: 1.5, between: 3.6, isStacked: false };
const DENSE: SwatchForm = { chip: { width: 3.2, height: 2.2 }, below: 1, between: 2.2, isStacked: false };

/** How the swatches of a card lie. */
export interface SwatchGrid {
  readonly form: SwatchForm;
  readonly columns: number;
  readonly shown: number;
  readonly pitch: number;
  readonly height: number;
}

/** As many swatches as fit in a width, in rows of a height: in the first form in which all do, else that with the most. */
export function fitSwatches(
  inks: readonly BoardInk[],
  width: number,
  mostHeight: number,
  paper: Paper,
): SwatchGrid {
  const fit = (form: SwatchForm) => fitForm(form, inks, width, mostHeight, paper);
  const isCovered = inks.some(({ covers }) => covers !== undefined);
  let most = fit(isCovered ? STACKED : LOW);
  for (const form of [LOW, DENSE]) {
    if (most.shown === inks.length) return most;
    const next = fit(form);
    if (next.shown > most.shown) most = next;
  }
  return most;
}

function fitForm(
  form: SwatchForm,
  inks: readonly BoardInk[],
  width: number,
  mostHeight: number,
  { unit, capitals }: Paper,
): SwatchGrid {
  const { chip, below, between, isStacked } = form;
  const pitch = (chip.height + below) * unit;
  // Room for any figures, so that what they are does not change how a board is laid out.
  const covers = inks
    .flatMap((one) => one.covers?.replace(/[^ \u00b7%]+/g, "8.8") ?? [])
    .map((one) => measureWords(one, capitals.small, TRACK));
  const hex = measureHex(capitals.small);
  const words =
    isStacked || covers.length === 0 ? Math.max(hex, ...covers) : hex + BEHIND * unit + Math.max(...covers);
  const least = (chip.width + BEHIND + between) * unit + words;
  const across = Math.max(1, Math.floor((width + between * unit) / least));
  const rows = Math.max(1, Math.min(Math.ceil(inks.length / across), Math.floor(mostHeight / pitch)));
  const shown = inks.length <= rows * across ? inks.length : rows * across - 1;
  // Rows as long as each other, where nothing is cut.
  const columns = shown === inks.length ? Math.max(1, Math.ceil(inks.length / rows)) : across;
  return { form, columns, shown, pitch, height: rows * pitch };
}

const measureHex = (capital: number): number => measureWords("#dddddd", capital, TRACK);

/**
 * The inks of a colourway, each with its hex and what it covers.
 *
 * @param colourway which of the board's.
 */
export function drawSwatches(
  inks: readonly BoardInk[],
  colourway: number,
  { form, columns, shown, pitch }: SwatchGrid,
  place: { readonly x: number; readonly y: number; readonly width: number },
  { unit, capitals }: Paper,
): readonly SvgElement[] {
  const step = place.width / columns;
  const chip = { width: form.chip.width * unit, height: form.chip.height * unit };
  const room = step - chip.width - (BEHIND + 0.6) * unit;
  const small = { capital: capitals.small };
  const beside = form.isStacked ? 0 : measureHex(capitals.small) + BEHIND * unit;
  const at = (k: number) => ({
    x: place.x + (k % columns) * step,
    y: place.y + Math.floor(k / columns) * pitch,
  });
  const swatches = inks.slice(0, shown).flatMap(({ shades, covers }, k) => {
    const { x, y } = at(k);
    const [words, shade = TONES.paper] = [x + chip.width + BEHIND * unit, shades[colourway]];
    const middle = y + (chip.height + capitals.small) / 2;
    const first = form.isStacked ? y + 0.25 * unit + capitals.small : middle;
    const second = form.isStacked ? y + chip.height - 0.25 * unit : middle;
    const grey = { ...small, ink: TONES.grey };
    return [
      drawChip({ x, y, ...chip }, shade),
      writeIn(shade, words, first, room, small),
      ...(covers === undefined ? [] : [writeIn(covers, words + beside, second, room - beside, grey)]),
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
