import { type Colourway, toLab } from "../../colour/index.js";
import { BARE } from "../../image/index.js";
import { inksOf, type Print } from "../../repeat/index.js";
import type { SvgElement } from "../../svg/index.js";
import { writeFigure, writeFixed, writePercent } from "../page/figures.js";
import { CAPITALS, drawChip, TONES, writeHeading, writeIn } from "../page/page.js";
import type { Part, SheetCoverage } from "../types.js";
import { isItsTile } from "./facts.js";

/** One row: an ink by number, or the cloth that stays bare. */
export interface InkRow {
  readonly number: number | undefined;
  /** In the colourway that is shown. */
  readonly shown: string | undefined;
  /** As drawn, by which tables, notes and films call it. */
  readonly drawn: string | undefined;
  readonly covers: SheetCoverage | undefined;
}

/** The rows of a print's inks in a colourway, most used first. */
export function listInks(
  print: Print,
  colourway: Colourway,
  coverage: readonly SheetCoverage[],
): readonly InkRow[] {
  const find = (ink: string): SheetCoverage | undefined => coverage.find((one) => one.ink === ink);
  const inks = inksOf(print).map(
    ({ ink }, k): InkRow => ({
      number: k + 1,
      shown: colourway.inks[ink] ?? ink,
      drawn: ink,
      covers: find(ink),
    }),
  );
  const bare = find(BARE);
  if (bare === undefined) return inks;
  return [...inks, { number: undefined, shown: undefined, drawn: undefined, covers: bare }];
}

/** The columns: right ends as shares of the table's width; in mm the chip's width, and where words begin. */
interface Columns {
  readonly l: number;
  readonly a: number;
  readonly b: number;
  readonly share: number;
  readonly repeat: number;
  /** Only where the cloth's width is known. */
  readonly metre: number | undefined;
  readonly chip: number;
  readonly shown: number;
  readonly drawn: number | undefined;
}

const MEASURES = { share: 0.745, repeat: 0.87, metre: 1 };
/** How wide the cloth of an all-over print is, only the mill knows. */
const WITHOUT_METRE = { share: 0.87, repeat: 1, metre: undefined };
const AS_SHOWN: Columns = { l: 0.43, a: 0.52, b: 0.61, ...MEASURES, chip: 10, shown: 18, drawn: undefined };
/** With the inks as drawn beside those that are shown. */
const WITH_DRAWN: Columns = { l: 0.455, a: 0.537, b: 0.625, ...MEASURES, chip: 7, shown: 14.5, drawn: 27.2 };

/** With the inks as drawn where the print is shown in other ones. */
const columnsOf = (print: Print, rows: readonly InkRow[]): Columns => ({
  ...(rows.every(({ shown, drawn }) => shown === drawn) ? AS_SHOWN : WITH_DRAWN),
  ...(print.kind === "border" ? MEASURES : WITHOUT_METRE),
});

/** What the areas are of: a half-drop's repeat is its cell, and what was measured is the tile. */
const areaOf = (print: Print): string => (isItsTile(print) ? "cm\u00b2 repeat" : "cm\u00b2 tile");

type Figure = "l" | "a" | "b" | "share" | "repeat";

/** From the heading to the columns' names, in mm. */
const HEAD = 6;

/** The pitch of rows, in mm; narrower where there are many. */
const pitchOf = (rows: number): number => (rows > 12 ? 4 : 4.9);

/** Where a table stands: no row of it lies below `bottom`. */
interface Place {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly bottom: number;
}

/** Rows under a heading, as many as there is room for, and how many these are. */
export function drawInks(
  heading: string,
  print: Print,
  rows: readonly InkRow[],
  place: Place,
): Part & { readonly count: number } {
  const { x, y, width, bottom } = place;
  const pitch = pitchOf(rows.length);
  const first = y + HEAD + pitch - 0.4;
  const count = Math.max(0, Math.min(rows.length, Math.floor((bottom - first) / pitch) + 1));
  const columns = columnsOf(print, rows);
  const body = [
    ...writeHeading(heading, x, y, width),
    ...drawHead(print, rows, columns, place),
    ...rows.slice(0, count).flatMap((row, k) => drawRow(row, columns, x, first + k * pitch, width)),
  ];
  return { defs: [], body, bottom: first + (count - 1) * pitch + 1.4, count };
}

const SMALL = { ink: TONES.grey, capital: CAPITALS.small };

function drawHead(
  print: Print,
  rows: readonly InkRow[],
  columns: Columns,
  { x, y, width }: Place,
): readonly SvgElement[] {
  const writeAt = (words: string, end: number): SvgElement =>
    writeIn(words, x + width * end, y + HEAD, 16, { ...SMALL, align: "end" });
  const write = (words: string, column: Figure): SvgElement => writeAt(words, columns[column]);
  const measured = rows.some(({ covers }) => covers !== undefined);
  return [
    ...(columns.drawn === undefined ? [] : [writeIn("as drawn", x + columns.drawn, y + HEAD, 14, SMALL)]),
    write("L", "l"),
    write("a", "a"),
    write("b, D50", "b"),
    ...(measured ? [write("covers", "share"), write(areaOf(print), "repeat")] : []),
    ...(measured && columns.metre !== undefined ? [writeAt("cm\u00b2 metre", columns.metre)] : []),
  ];
}

function drawRow(
  { number, shown, drawn, covers }: InkRow,
  columns: Columns,
  x: number,
  y: number,
  width: number,
): readonly SvgElement[] {
  const writeAt = (words: string, end: number): SvgElement =>
    writeIn(words, x + width * end, y, 14, { align: "end" });
  const write = (words: string, column: Figure): SvgElement => writeAt(words, columns[column]);
  return [
    ...(shown === undefined
      ? [writeIn("bare cloth", x + columns.shown, y, 24, { ink: TONES.grey })]
      : drawInk(shown, columns, x, y, write)),
    ...(drawn === undefined || columns.drawn === undefined
      ? []
      : [writeIn(drawn, x + columns.drawn, y, 14, SMALL)]),
    ...(number === undefined
      ? []
      : [writeIn(writeFigure(number, 0), x + 3.4, y, 5, { ink: TONES.grey, align: "end" })]),
    ...(covers === undefined
      ? []
      : [
          write(writePercent(covers.share), "share"),
          write(writeFixed(covers.perRepeat, 1), "repeat"),
          ...(columns.metre === undefined
            ? []
            : [writeAt(writeFixed(covers.perRunningMetre, 0), columns.metre)]),
        ]),
  ];
}

function drawInk(
  ink: string,
  columns: Columns,
  x: number,
  y: number,
  write: (words: string, column: Figure) => SvgElement,
): readonly SvgElement[] {
  const { l, a, b } = toLab(ink, "D50");
  return [
    drawChip({ x: x + 5.4, y: y - 2.6, width: columns.chip, height: 3.4 }, ink),
    writeIn(ink, x + columns.shown, y, 16),
    write(writeFixed(l, 1), "l"),
    write(writeFixed(a, 1), "a"),
    write(writeFixed(b, 1), "b"),
  ];
}
