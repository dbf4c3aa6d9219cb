import { contrastRatio, toOklch } from "../../colour/index.js";
import type { Box } from "../../geometry/box.js";
import { drawWords, shortenWords } from "../../repeat/index.js";
import { element, type SvgElement, serialise, text, writeNumber } from "../../svg/index.js";

/** An upright A4 page (ISO 216) and its type area, in mm. */
export const PAGE = { width: 210, height: 297, left: 18, right: 192, top: 18, bottom: 281 } as const;

/** The only colours of a sheet beside the print's own. */
export const TONES = { paper: "#ffffff", dark: "#23262a", grey: "#7b8087", hair: "#c9cdd1" } as const;

/** Heights of capitals, in mm. */
export const CAPITALS = { title: 6.2, name: 2.3, body: 1.75, small: 1.4 } as const;

/** Letters of small print stand a little apart, as shares of a capital's height. */
export const TRACK = 0.04;

/** The most colourful of some inks that can be read on paper; the tone of the text where there is none. */
export function accentOf(inks: readonly string[]): string {
  const readable = inks.filter((ink) => contrastRatio(ink, TONES.paper) >= 2.8 && toOklch(ink).c > 0.06);
  const [best] = [...readable].sort((one, other) => toOklch(other).c - toOklch(one).c);
  return best ?? TONES.dark;
}

interface Writing {
  readonly ink?: string;
  readonly capital?: number;
  readonly align?: "start" | "middle" | "end";
  readonly weight?: "light" | "regular" | "strong";
  readonly turn?: number;
}

/** Words within some room, cut where they do not fit. */
export function writeIn(
  words: string,
  x: number,
  y: number,
  room: number,
  writing: Writing = {},
): SvgElement {
  const { ink = TONES.dark, capital = CAPITALS.body, ...how } = writing;
  const fitting = shortenWords(words, room, capital, TRACK);
  return drawWords(fitting, { x, y, capital, ink, track: TRACK, ...how });
}

/** A section's heading, over a hairline, cut where it does not fit. */
export function writeHeading(words: string, x: number, y: number, width: number): readonly SvgElement[] {
  const [capital, track] = [CAPITALS.small, 0.28];
  const fitting = shortenWords(words.toUpperCase(), width, capital, track);
  const spaced = drawWords(fitting, { x, y, capital, ink: TONES.grey, track });
  return [spaced, drawLine(x, y + 2.2, x + width, y + 2.2)];
}

/** A hairline, or a thicker one. */
export function drawLine(
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  { ink = TONES.hair, width = 0.15, dashes = "" }: { ink?: string; width?: number; dashes?: string } = {},
): SvgElement {
  const ends = { x1: round(x1), y1: round(y1), x2: round(x2), y2: round(y2) };
  const dashed = dashes === "" ? {} : { "stroke-dasharray": dashes };
  return element("line", { ...ends, stroke: ink, "stroke-width": round(width), ...dashed });
}

/** A filled box; pale ones get a hairline round them, so that they are seen on paper. */
export function drawChip(box: Box, ink: string): SvgElement {
  const pale = contrastRatio(ink, TONES.paper) < 1.35;
  const outline = pale ? { stroke: TONES.hair, "stroke-width": "0.15" } : {};
  return element("rect", { ...boxAttributes(box), fill: ink, ...outline });
}

/** A box as attributes. */
export function boxAttributes({ x, y, width, height }: Box): Record<string, string> {
  return { x: round(x), y: round(y), width: round(width), height: round(height) };
}

/** Whole thousandths of a mm. */
export function round(value: number): string {
  return writeNumber(value, 3);
}

/** A page as SVG text, true to size. */
export function writePage(
  title: string,
  defs: readonly SvgElement[],
  body: readonly SvgElement[],
  size: { readonly width: number; readonly height: number } = PAGE,
): string {
  const [width, height] = [round(size.width), round(size.height)];
  const attributes = {
    xmlns: "http://www.w3.org/2000/svg",
    width: `${width}mm`,
    height: `${height}mm`,
    viewBox: `0 0 ${width} ${height}`,
  };
  const paper = element("rect", { width, height, fill: TONES.paper });
  return serialise(
    element("svg", attributes, [
      element("title", {}, [text(title)]),
      ...(defs.length > 0 ? [element("defs", {}, defs)] : []),
      paper,
      ...body,
    ]),
  );
}
