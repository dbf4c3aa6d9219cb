import { type Colourway, toLab } from "../../colour/index.js";
import type { Box } from "../../geometry/box.js";
import { inksOf, type Print, recolour, tileExtent } from "../../repeat/index.js";
import type { SvgElement } from "../../svg/index.js";
import { writeFigure, writeFixed } from "../page/figures.js";
import { CAPITALS, drawChip, TONES, writeIn } from "../page/page.js";
import { drawPrint } from "../pictures/draw-print.js";
import type { Part, SheetSeams } from "../types.js";
import { drawVerdict, judgeSeams, verdictWidth } from "./seam-verdict.js";

/** In mm: the picture's height, the room for the name, and the pitch of inks. */
const PICTURE = 30;
const NAME = 7.2;
const ROW = 3.4;

/** As many inks as a page has room for; the table of inks lists them all. */
const MOST_INKS = 58;

/** How high the card of a print with so many inks is, in mm. */
export function cardHeight(inks: number): number {
  return PICTURE + NAME + Math.min(inks, MOST_INKS + 1) * ROW;
}

/** A colourway: its cloth, its name, the verdict on its seams, and its inks by number. */
export function drawCard(
  print: Print,
  colourway: Colourway,
  seams: readonly SheetSeams[],
  place: { readonly x: number; readonly y: number; readonly width: number },
  scope: string,
  accent: string,
): Part {
  const { x, y, width } = place;
  const { box, window } = framePicture(print, { x, y, width, height: PICTURE });
  const drawn = drawPrint(recolour(print, colourway), window, box, scope);
  const body: SvgElement[] = [...drawn.body];
  const name = y + PICTURE + 4.2;
  const verdict = judgeSeams(seams, colourway.name);
  const beside = verdict === undefined ? 0 : Math.min(width * 0.42, verdictWidth(verdict));
  const room = verdict === undefined ? width : width - beside - width * 0.02;
  body.push(writeIn(colourway.name, x, name, room, { capital: CAPITALS.name * 0.9 }));
  if (verdict !== undefined) body.push(...drawVerdict(verdict, x + width, name, beside, accent));
  let line = y + PICTURE + NAME + 2.2;
  const small = { capital: CAPITALS.small } as const;
  const end = { ...small, align: "end" } as const;
  const inks = inksOf(print);
  for (const [k, { ink }] of inks.slice(0, MOST_INKS).entries()) {
    const shown = colourway.inks[ink] ?? ink;
    const { l, a, b } = toLab(shown, "D50");
    body.push(
      writeIn(writeFigure(k + 1, 0), x + 2.6, line, 4, { ...end, ink: TONES.grey }),
      drawChip({ x: x + 4, y: line - 2, width: 6, height: 2.5 }, shown),
      writeIn(shown, x + 11.6, line, 12, small),
      ...[l, a, b].map((value, column) =>
        writeIn(writeFixed(value, 1), x + width - (2 - column) * 6.2, line, 7, { ...end, ink: TONES.grey }),
      ),
    );
    line += ROW;
  }
  if (inks.length > MOST_INKS)
    body.push(writeIn(`and ${inks.length - MOST_INKS} more`, x + 11.6, line, 30, small));
  return { defs: drawn.defs, body, bottom: y + cardHeight(inks.length) };
}

/**
 * What is shown, and where: a border from selvedge to selvedge, at least one repeat of it, standing on the name below; of
 * an all-over print one repeat and a half, or one whole repeat down.
 */
function framePicture(print: Print, room: Box): { readonly box: Box; readonly window: Box } {
  const tile = tileExtent(print, "rectangle");
  const across = print.kind === "border" ? 1 : 1.5;
  const scale = Math.min(room.width / (across * tile.width), room.height / tile.height);
  const height = print.kind === "border" ? tile.height * scale : room.height;
  const box = { ...room, y: room.y + room.height - height, height };
  const [wide, high] = [box.width / scale, box.height / scale];
  return {
    box,
    window: { x: (tile.width - wide) / 2, y: (tile.height - high) / 2, width: wide, height: high },
  };
}
