import { measureWords } from "../../repeat/index.js";
import { element, type SvgElement } from "../../svg/index.js";
import type { SheetHead } from "../types.js";
import { boxAttributes, TONES, TRACK, writeIn } from "./page.js";
import type { Paper } from "./paper.js";

/** What stands over a page: its title, a line under it, and short lines at the right. */
export interface Heading {
  readonly title: string;
  readonly under: string;
  readonly beside: readonly string[];
}

/** The lines of a head as the studio gives them, those that it gives. */
export function linesOf(head: SheetHead, ...keys: readonly (keyof SheetHead)[]): readonly string[] {
  return keys.flatMap((key) => {
    const line = head[key];
    return line === undefined || line === "" ? [] : [line];
  });
}

/** A title is written smaller before it is cut, down to this. */
const SMALLEST = 0.55;

/** The head of a page: what it is about at the left, who shows it and when at the right, on one line with it. */
export function drawHead(
  { left, right, top, unit, capitals }: Paper,
  { title, under, beside }: Heading,
  accent: string,
): readonly SvgElement[] {
  const room = (right - left) * 0.68;
  const y = top + 4 * unit + capitals.title;
  const fits = room / Math.max(1e-6, measureWords(title, capitals.title, TRACK));
  const capital = capitals.title * Math.min(1, Math.max(SMALLEST, fits * 0.999));
  const line = { ink: TONES.grey, capital: capitals.name * 0.9 };
  const bar = { x: left, y: top, width: 14 * unit, height: unit };
  return [
    element("rect", { ...boxAttributes(bar), fill: accent }),
    writeIn(title, left, y, room, { capital, weight: "light" }),
    ...(under === "" ? [] : [writeIn(under, left, y + 6 * unit, room, line)]),
    ...beside.map((words, k) => {
      const up = (beside.length - 1 - k) * 4.4 * unit;
      return writeIn(words, right, y + 6 * unit - up, (right - left) * 0.28, { ...line, align: "end" });
    }),
  ];
}

/** The foot of a page: what is to be known of its pictures, and its number. */
export function drawFoot(
  { left, right, height, top, capitals }: Paper,
  says: string,
  page: number,
  pages: number,
): readonly SvgElement[] {
  const y = height - top;
  const small = { ink: TONES.grey, capital: capitals.small };
  return [
    writeIn(says, left, y, (right - left) * 0.8, small),
    writeIn(`${page} / ${pages}`, right, y, (right - left) * 0.15, { ...small, align: "end" }),
  ];
}
