import { measureWords } from "../../repeat/index.js";
import { element, type SvgElement } from "../../svg/index.js";
import { CAPITALS, round, TONES, TRACK, writeIn } from "../page/page.js";
import type { SheetSeams } from "../types.js";

/** What is to be said of a colourway's seams, in a few words. */
export function judgeSeams(
  seams: readonly SheetSeams[],
  colourway: string,
): { ok: boolean; says: string } | undefined {
  const found = seams.find((one) => one.colourway === colourway);
  if (found === undefined) return undefined;
  const { ok, edges } = found.report;
  if (ok) return { ok, says: "seams closed" };
  const open = edges.filter((edge) => !edge.ok).map(({ edge, kind }) => `${edge} ${kind ?? "open"}`);
  return { ok, says: `seam: ${open.join(", ")}` };
}

/** The dot with what is between it and the words, in mm. */
const DOT = 2;

/** How wide a verdict is, in mm. */
export const verdictWidth = ({ says }: { says: string }): number =>
  DOT + measureWords(says, CAPITALS.small, TRACK);

/** A verdict that ends at x: a full dot for closed seams, a ring in the accent's colour for open ones. */
export function drawVerdict(
  verdict: { ok: boolean; says: string },
  x: number,
  y: number,
  room: number,
  accent: string,
): readonly SvgElement[] {
  const { ok, says } = verdict;
  const dot = { cx: round(x - 0.6), cy: round(y - CAPITALS.small / 2), r: "0.55" };
  const paint = ok ? { fill: TONES.dark } : { fill: "none", stroke: accent, "stroke-width": "0.3" };
  const ink = ok ? TONES.grey : accent;
  return [
    element("circle", { ...dot, ...paint }),
    writeIn(says, x - DOT, y, room - DOT, { ink, capital: CAPITALS.small, align: "end" }),
  ];
}
