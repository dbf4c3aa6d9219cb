import { wrapWords } from "../../repeat/index.js";
import type { SvgElement } from "../../svg/index.js";
import { CAPITALS, TONES, TRACK, writeHeading, writeIn } from "../page/page.js";
import type { Part } from "../types.js";
import type { Fact } from "./facts.js";

/** Room for a fact's label, and the pitch of lines, in mm. */
const LABEL = 25;
const LINE = 3.5;
const ROW = 4.5;
/** A fact of more lines than this is cut. */
const MOST_LINES = 8;

/** Facts under a heading, each with its label. */
export function drawFacts(
  heading: string,
  facts: readonly Fact[],
  x: number,
  y: number,
  width: number,
): Part {
  const body: SvgElement[] = [...writeHeading(heading, x, y, width)];
  let line = y + 7.4;
  for (const { label, value } of facts) {
    body.push(writeIn(label, x, line, LABEL - 2, { ink: TONES.grey }));
    const lines = [...wrapWords(value, width - LABEL, CAPITALS.body, TRACK)];
    if (lines.length > MOST_LINES) lines.splice(MOST_LINES, Infinity, "..");
    for (const [k, words] of lines.entries())
      body.push(writeIn(words, x + LABEL, line + k * LINE, width - LABEL));
    line += ROW + Math.max(0, lines.length - 1) * LINE;
  }
  return { defs: [], body, bottom: line - ROW + 1.4 };
}
