import type { Note } from "../errors.js";
import { wrapWords } from "../repeat/index.js";
import { element, type SvgElement } from "../svg/index.js";
import { CAPITALS, round, TONES, TRACK, writeHeading, writeIn } from "./page.js";
import type { Part } from "./types.js";

const LINE = 2.9;
const APART = 1.3;
const INDENT = 3;
const CAPITAL = CAPITALS.small * 1.08;
/** A note of more lines than this is cut: it would fill a page. */
const MOST_LINES = 40;

/** Notes from the first that was not drawn yet, as many as there is room for, and how many of them that are. */
export function drawNotes(
  notes: readonly Note[],
  { x, y, width, bottom }: { x: number; y: number; width: number; bottom: number },
  accent: string,
): Part & { readonly count: number } {
  const body: SvgElement[] = [];
  let line = y + 6.6;
  let count = 0;
  for (const note of notes) {
    const said =
      note.where === undefined || note.message.includes(note.where)
        ? note.message
        : `${note.where}: ${note.message}`;
    const lines = [...wrapWords(said, width - INDENT, CAPITAL, TRACK)];
    if (lines.length > MOST_LINES) lines.splice(MOST_LINES, Infinity, "..");
    if (line + (lines.length - 1) * LINE > bottom) break;
    const dot = { cx: round(x + 0.7), cy: round(line - 0.75), r: "0.5" };
    body.push(element("circle", { ...dot, fill: note.level === "warning" ? accent : TONES.hair }));
    for (const words of lines) {
      body.push(writeIn(words, x + INDENT, line, width - INDENT, { capital: CAPITAL }));
      line += LINE;
    }
    line += APART;
    count += 1;
  }
  const heading = count === 0 ? [] : writeHeading("Notes", x, y, width);
  return { defs: [], body: [...heading, ...body], bottom: count === 0 ? y : line - LINE - APART + 1, count };
}
