import { type Print, wrapWords } from "../../repeat/index.js";
import type { SvgElement } from "../../svg/index.js";
import { writeFixed, writeLength } from "../page/figures.js";
import { drawLine, TONES, TRACK, writeIn } from "../page/page.js";
import type { Paper } from "../page/paper.js";
import type { LineCloth, LineStyle } from "../types.js";
import { type Fact, namePrint } from "./facts.js";

/** What is said of a style: the prints that it is cut from, the cloth that it needs, then what the studio gives. */
export function listStyleFacts(style: LineStyle, prints: readonly Print[]): readonly Fact[] {
  const names = [...new Set(style.dressed.report.panels.map(({ print }) => print))];
  const cut = names.map((name) => describeCut(name, prints));
  const widths = names.flatMap((name) =>
    prints.flatMap((print) => (print.name === name && print.kind === "border" ? [print.width] : [])),
  );
  const { cloth = [], facts = [] } = style;
  const wide = [...new Set(widths)].map(writeLength).join(", ");
  return [
    ...(cut.length === 0 ? [] : [{ label: cut.length === 1 ? "Print" : "Prints", value: cut.join("\n") }]),
    ...(wide === "" || cloth.length > 0 ? [] : [{ label: "Cloth width", value: wide }]),
    ...(cloth.length === 0 ? [] : [{ label: "Cloth need", value: cloth.map(describeNeed).join("\n") }]),
    ...facts.map(({ name, value }) => ({ label: name, value })),
  ];
}

function describeCut(name: string, prints: readonly Print[]): string {
  const print = prints.find((one) => one.name === name);
  return print === undefined ? name : namePrint(print);
}

/** A length in mm, rounded up to whole centimetres; what is above by rounding only is not. */
const wholeCentimetres = (length: number): number => Math.ceil(length / 10 - 1e-6) * 10;

function describeNeed({ print, length, clothWidth, spare = 0 }: LineCloth): string {
  const need = `${writeFixed(wholeCentimetres(length) / 1000, 2)} m of ${writeLength(clothWidth)}`;
  const more = spare > 0 ? `; up to ${writeLength(wholeCentimetres(spare))} more to match` : "";
  return `${print === undefined ? "" : `${print}: `}${need}${more}`;
}

/** In units of the paper: labels' room, pitch of lines, from a fact to the next, from the name to its line and to the facts. */
const LABEL = 19;
const LINE = 3.5;
const APART = 1.3;
const RULE = 2.6;
const FIRST = 5.6;
/** A fact of more lines than this is cut. */
const MOST_LINES = 8;

function linesOf({ value }: Fact, width: number, { unit, capitals }: Paper): readonly string[] {
  const room = width - LABEL * unit;
  const lines = value.split("\n").flatMap((part) => wrapWords(part, room, capitals.body, TRACK));
  return lines.length > MOST_LINES ? [...lines.slice(0, MOST_LINES - 1), ".."] : lines;
}

/** A fact that says nothing has its label. */
const heightOf = (lines: number, { unit }: Paper): number => (Math.max(1, lines) * LINE + APART) * unit;

/** How high the words of a style are, with its name. */
export function measureStyle(facts: readonly Fact[], width: number, paper: Paper): number {
  const { unit, capitals } = paper;
  const lines = facts.reduce((sum, fact) => sum + heightOf(linesOf(fact, width, paper).length, paper), 0);
  return capitals.name + (RULE + FIRST) * unit + lines - LINE * unit;
}

/** A style's name and number over a hairline, and its facts below; those that do not fit are counted. */
export function drawStyle(
  { name, number }: LineStyle,
  facts: readonly Fact[],
  place: { readonly x: number; readonly y: number; readonly width: number; readonly height: number },
  paper: Paper,
): readonly SvgElement[] {
  const { unit, capitals } = paper;
  const { x, y, width, height } = place;
  const stands = y + capitals.name;
  const rule = stands + RULE * unit;
  const body: SvgElement[] = [
    writeIn(name, x, stands, width * (number === undefined ? 1 : 0.68), { capital: capitals.name }),
    drawLine(x, rule, x + width, rule),
  ];
  const grey = { ink: TONES.grey, capital: capitals.body };
  if (number !== undefined)
    body.push(writeIn(number, x + width, stands, width * 0.28, { ...grey, align: "end" }));
  let line = rule + FIRST * unit;
  for (const [k, fact] of facts.entries()) {
    const lines = linesOf(fact, width, paper);
    const next = line + heightOf(lines.length, paper);
    // Below a fact that is not the last, there must be room to say how many are left.
    const end = k === facts.length - 1 ? next - heightOf(1, paper) : next;
    if (end > y + height + 1e-6) {
      body.push(writeIn(`and ${facts.length - k} more`, x, line, width, grey));
      break;
    }
    body.push(writeIn(fact.label, x, line, (LABEL - 1.6) * unit, grey));
    for (const [at, words] of lines.entries())
      body.push(
        writeIn(words, x + LABEL * unit, line + at * LINE * unit, width - LABEL * unit, {
          capital: capitals.body,
        }),
      );
    line = next;
  }
  return body;
}
