import { type Colourway, toLab } from "../../colour/index.js";
import { BARE } from "../../image/index.js";
import { inksOf, type Print } from "../../repeat/index.js";
import type { SvgElement } from "../../svg/index.js";
import { writeFigure, writeFixed, writePercent } from "../page/figures.js";
import { CAPITALS, drawChip, TONES, writeHeading, writeIn } from "../page/page.js";
import type { Part, SheetCoverage } from "../types.js";

/** One row: an ink by number, or the cloth that stays bare. */
export interface InkRow {
  readonly number: number | undefined;
  /** In the colourway that is shown. */
  readonly shown: string | undefined;
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
    ({ ink }, k): InkRow => ({ number: k + 1, shown: colourway.inks[ink] ?? ink, covers: find(ink) }),
  );
  const bare = find(BARE);
  if (bare === undefined) return inks;
  return [...inks, { number: undefined, shown: undefined, covers: bare }];
}

/** Right ends of the columns, as shares of the table's width. */
const COLUMNS = { l: 0.43, a: 0.52, b: 0.61, share: 0.745, repeat: 0.87, metre: 1 } as const;

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
  rows: readonly InkRow[],
  place: Place,
): Part & { readonly count: number } {
  const { x, y, width, bottom } = place;
  const pitch = pitchOf(rows.length);
  const first = y + HEAD + pitch - 0.4;
  const count = Math.max(0, Math.min(rows.length, Math.floor((bottom - first) / pitch) + 1));
  const drawn = rows.slice(0, count);
  const body = [
    ...writeHeading(heading, x, y, width),
    ...drawHead(rows, place),
    ...drawn.flatMap((row, k) => drawRow(row, x, first + k * pitch, width)),
  ];
  return { defs: [], body, bottom: first + (count - 1) * pitch + 1.4, count };
}

function drawHead(rows: readonly InkRow[], { x, y, width }: Place): readonly SvgElement[] {
  const small = { ink: TONES.grey, capital: CAPITALS.small, align: "end" } as const;
  const write = (words: string, column: keyof typeof COLUMNS): SvgElement =>
    writeIn(words, x + width * COLUMNS[column], y + HEAD, 16, small);
  const measured = rows.some(({ covers }) => covers !== undefined);
  return [
    write("L", "l"),
    write("a", "a"),
    write("b, D50", "b"),
    ...(measured
      ? [write("covers", "share"), write("cm\u00b2 repeat", "repeat"), write("cm\u00b2 metre", "metre")]
      : []),
  ];
}

function drawRow(
  { number, shown, covers }: InkRow,
  x: number,
  y: number,
  width: number,
): readonly SvgElement[] {
  const write = (words: string, column: keyof typeof COLUMNS): SvgElement =>
    writeIn(words, x + width * COLUMNS[column], y, 14, { align: "end" });
  return [
    ...(shown === undefined
      ? [writeIn("bare cloth", x + 18, y, 30, { ink: TONES.grey })]
      : drawInk(shown, x, y, write)),
    ...(number === undefined
      ? []
      : [writeIn(writeFigure(number, 0), x + 3.4, y, 5, { ink: TONES.grey, align: "end" })]),
    ...(covers === undefined
      ? []
      : [
          write(writePercent(covers.share), "share"),
          write(writeFixed(covers.perRepeat, 1), "repeat"),
          write(writeFixed(covers.perRunningMetre, 0), "metre"),
        ]),
  ];
}

function drawInk(
  ink: string,
  x: number,
  y: number,
  write: (words: string, column: "l" | "a" | "b") => SvgElement,
): readonly SvgElement[] {
  const { l, a, b } = toLab(ink, "D50");
  return [
    drawChip({ x: x + 5.4, y: y - 2.6, width: 10, height: 3.4 }, ink),
    writeIn(ink, x + 18, y, 16),
    write(writeFixed(l, 1), "l"),
    write(writeFixed(a, 1), "a"),
    write(writeFixed(b, 1), "b"),
  ];
}
