import type { Note } from "../../errors.js";
import { wrapWords } from "../../repeat/index.js";
import { element, type SvgElement } from "../../svg/index.js";
import type { Part } from "../types.js";
import { CAPITALS, round, TONES, TRACK, writeHeading, writeIn } from "./page.js";
import type { Rest } from "./pages.js";

const LINE = 2.9;
const APART = 1.3;
const INDENT = 3;
/** From where a heading stands to the first line. */
const HEADING = 6.6;
const CAPITAL = CAPITALS.small * 1.08;
/** A note of more lines than this is cut: it would fill a page. */
const MOST_LINES = 40;

/** A note's lines in a width. */
export function breakNote({ where, message }: Note, width: number): readonly string[] {
  const said = where === undefined || message.includes(where) ? message : `${where}: ${message}`;
  const lines = wrapWords(said, width - INDENT, CAPITAL, TRACK);
  return lines.length > MOST_LINES ? [...lines.slice(0, MOST_LINES), ".."] : lines;
}

/** How many notes from the first have room, when each has so many lines. */
export function countFitting(lines: readonly number[], { y, bottom }: Rest): number {
  let line = y + HEADING;
  for (const [k, count] of lines.entries()) {
    if (line + (count - 1) * LINE > bottom) return k;
    line += count * LINE + APART;
  }
  return lines.length;
}

/** Notes that have room, under their heading. */
export function drawNotes(notes: readonly Note[], { x, y, width }: Rest, accent: string): Part {
  if (notes.length === 0) return { defs: [], body: [], bottom: y };
  const body: SvgElement[] = [...writeHeading("Notes", x, y, width)];
  let line = y + HEADING;
  for (const note of notes) {
    const dot = { cx: round(x + 0.7), cy: round(line - 0.75), r: "0.5" };
    body.push(element("circle", { ...dot, fill: note.level === "warning" ? accent : TONES.hair }));
    for (const words of breakNote(note, width)) {
      body.push(writeIn(words, x + INDENT, line, width - INDENT, { capital: CAPITAL }));
      line += LINE;
    }
    line += APART;
  }
  return { defs: [], body, bottom: line - LINE - APART + 1 };
}
