import type { Box } from "../../geometry/box.js";
import { type Print, tileExtent } from "../../repeat/index.js";
import { element, type SvgElement } from "../../svg/index.js";
import { writeFigure, writeLength } from "../page/figures.js";
import { boxAttributes, CAPITALS, drawLine, round, TONES, writeIn } from "../page/page.js";
import type { Part } from "../types.js";
import { drawPrint } from "./draw-print.js";

/** Room for the figures above and to the left of the picture, for what stands under it, and for the selvedges' ends, in mm. */
const ABOVE = 7;
const BELOW = 4;
const BESIDE = 7;
const OVER = 2.4;

/** How much of what goes on around the repeat is shown, as a share of the repeat, and how far it is veiled. */
const AROUND = { border: 0.3, "all-over": 0.28 } as const;
const VEIL = { border: "0.45", "all-over": "0.36" } as const;

/** The repeat in the middle of the cloth that goes on around it, veiled; its size, and a border's selvedges, marked. */
export function drawRepeat(print: Print, room: Box, scope: string): Part {
  const tile = tileExtent(print, "rectangle");
  const around = AROUND[print.kind];
  const wide = tile.width * (1 + 2 * around);
  const space = { width: room.width - BESIDE - OVER, height: room.height - ABOVE - BELOW };
  const high = print.kind === "border" ? tile.height : tile.height * (1 + 2 * around);
  const scale = Math.min(space.width / wide, space.height / high);
  const box: Box = {
    x: room.x + BESIDE,
    y: room.y + ABOVE,
    width: print.kind === "border" ? wide * scale : space.width,
    height: print.kind === "border" ? high * scale : space.height,
  };
  const window: Box = {
    x: (tile.width - box.width / scale) / 2,
    y: (tile.height - box.height / scale) / 2,
    width: box.width / scale,
    height: box.height / scale,
  };
  const repeat: Box = {
    x: box.x - window.x * scale,
    y: box.y - window.y * scale,
    width: tile.width * scale,
    height: tile.height * scale,
  };
  const drawn = drawPrint(print, window, box, scope);
  return {
    defs: drawn.defs,
    body: [
      ...drawn.body,
      ...veil(box, repeat, VEIL[print.kind]),
      ...measure(print, box, repeat, tile),
      ...(print.kind === "border" ? markSelvedges(box) : []),
      ...markWarp(print, box),
    ],
    bottom: box.y + box.height + BELOW,
  };
}

function veil(box: Box, repeat: Box, opacity: string): readonly SvgElement[] {
  const right = repeat.x + repeat.width;
  const below = repeat.y + repeat.height;
  const parts: readonly Box[] = [
    { x: box.x, y: box.y, width: repeat.x - box.x, height: box.height },
    { x: right, y: box.y, width: box.x + box.width - right, height: box.height },
    { x: repeat.x, y: box.y, width: repeat.width, height: repeat.y - box.y },
    { x: repeat.x, y: below, width: repeat.width, height: box.y + box.height - below },
  ];
  return parts
    .filter(({ width, height }) => width > 1e-6 && height > 1e-6)
    .map((part) => element("rect", { ...boxAttributes(part), fill: TONES.paper, "fill-opacity": opacity }));
}

/** Sizes on lines that begin and end where the repeat does. */
function measure(
  print: Print,
  box: Box,
  repeat: Box,
  tile: { width: number; height: number },
): readonly SvgElement[] {
  const [across, down] = print.kind === "border" ? [tile.width, tile.height] : [print.width, print.height];
  const y = box.y - 3.4;
  const x = box.x - 3.4;
  const [right, below] = [repeat.x + repeat.width, repeat.y + repeat.height];
  const line = { ink: TONES.dark, width: 0.18 };
  const tick = 1.1;
  const small = { capital: CAPITALS.small, align: "middle" } as const;
  const [middle, centre] = [(repeat.x + right) / 2, (repeat.y + below) / 2];
  return [
    drawLine(repeat.x, y, right, y, line),
    ...[repeat.x, right].map((at) => drawLine(at, y - tick, at, box.y - 0.6, line)),
    writeIn(writeCells(tile.width, across), middle, y - 1.3, box.width, small),
    drawLine(x, repeat.y, x, below, line),
    ...[repeat.y, below].map((at) =>
      drawLine(x - tick, at, box.x - (print.kind === "border" ? OVER : 0.6), at, line),
    ),
    writeIn(writeCells(tile.height, down), x - 1.3, centre, box.height, { ...small, turn: -90 }),
  ];
}

/** A length of the tile, and of how many repeats it is made, where there are several. */
function writeCells(length: number, cell: number): string {
  const count = Math.round(length / cell);
  return count === 1
    ? writeLength(length)
    : `${writeLength(length)} = ${count} \u00d7 ${writeFigure(cell / 10, 2)}`;
}

function markSelvedges(box: Box): readonly SvgElement[] {
  const [left, right] = [box.x - OVER, box.x + box.width + OVER];
  const line = { ink: TONES.dark, width: 0.3, dashes: "2.4 0.9 0.5 0.9" };
  const small = { ink: TONES.grey, capital: CAPITALS.small, align: "end" } as const;
  const [top, bottom] = [box.y, box.y + box.height];
  return [
    drawLine(left, top, right, top, line),
    drawLine(left, bottom, right, bottom, line),
    writeIn("selvedge", right, bottom + 3, box.width, small),
  ];
}

/** Which way the warp runs, under the picture: a line with an arrow at each end. */
function markWarp({ grain }: Print, box: Box): readonly SvgElement[] {
  const y = box.y + box.height + 2.4;
  const along = grain === "x";
  const [from, to] = along
    ? [
        { x: box.x, y },
        { x: box.x + 7, y },
      ]
    : [
        { x: box.x + 0.8, y: y - 1.5 },
        { x: box.x + 0.8, y: y + 2.5 },
      ];
  const barbs = (
    [
      [from, 1],
      [to, -1],
    ] as const
  ).map(([tip, way]) => {
    const [back, aside] = [0.9 * way, 0.55];
    const [one, other] = along
      ? [`${round(tip.x + back)} ${round(tip.y - aside)}`, `${round(tip.x + back)} ${round(tip.y + aside)}`]
      : [`${round(tip.x - aside)} ${round(tip.y + back)}`, `${round(tip.x + aside)} ${round(tip.y + back)}`];
    return `M${one}L${round(tip.x)} ${round(tip.y)}L${other}`;
  });
  const line = `M${round(from.x)} ${round(from.y)}L${round(to.x)} ${round(to.y)}`;
  return [
    element("path", {
      d: [line, ...barbs].join(""),
      fill: "none",
      stroke: TONES.grey,
      "stroke-width": "0.18",
    }),
    writeIn("warp", (along ? to.x : from.x) + 1.8, y + (along ? 0.7 : 1.2), 12, {
      ink: TONES.grey,
      capital: CAPITALS.small,
    }),
  ];
}
