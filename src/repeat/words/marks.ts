import { translation } from "../../geometry/affine.js";
import { transformPath } from "../../geometry/cubic-path.js";
import { readPath } from "../../geometry/read-path.js";
import { writePath } from "../../geometry/write-path.js";
import { LETTERS, type Letter } from "./letters.js";

/** Marks over a letter, relative to the middle of where they stand, as wide as `width`. */
const OVER: Readonly<Record<string, Letter>> = {
  "\u0300": [1.4, "m-0.9 -1.3l1.4 1.3"],
  "\u0301": [1.4, "m0.9 -1.3l-1.4 1.3"],
  "\u0302": [2.2, "m-1.1 0l1.1 -1.2l1.1 1.2"],
  "\u0303": [2.6, "m-1.3 -0.2c0.4 -1 1 -0.8 1.3 -0.4c0.3 0.4 0.9 0.6 1.3 -0.4"],
  "\u0304": [2.4, "m-1.2 -0.5h2.4"],
  "\u0306": [2.2, "m-1.1 -1.2c0.2 1.4 2 1.4 2.2 0"],
  "\u0307": [0, "m0 -0.7v0.2"],
  "\u0308": [2, "m-1 -0.7v0.2m2 -0.2v0.2"],
  "\u030a": [1.4, "m0 -1.5a0.7 0.7 0 0 1 0 1.4a0.7 0.7 0 0 1 0 -1.4"],
  "\u030b": [2.4, "m-0.2 -1.3l-0.9 1.3m2.4 -1.3l-0.9 1.3"],
  "\u030c": [2.2, "m-1.1 -1.2l1.1 1.2l1.1 -1.2"],
};

/** Marks below a letter, relative to the middle of its foot. */
const UNDER: Readonly<Record<string, Letter>> = {
  "\u0323": [0, "m0 1v0.2"],
  "\u0326": [0.4, "m0.2 0.8l-0.4 1.2"],
  "\u0327": [1.4, "m0.1 0v0.6c1 -0.1 1 1.5 -0.7 1.3"],
  "\u0328": [1.2, "m0.6 0c-1 0.8 -0.6 2 0.6 1.6"],
};

/** Letters that reach up to 2 only, so that a mark stands lower; i and j lose their dots under one. */
const LOW = /^[aceginjmopqrsuvwxyz\u00e6\u00f8\u0131\u0153]$/;
const DOTLESS: Readonly<Record<string, Letter>> = {
  i: [0, "M0 2V7"],
  j: [1, "M1 2V7.7C1 8.7 0.5 9.1 -0.2 9"],
};
/** Tall letters whose caron stands behind them, like an apostrophe. */
const TALL = /^[dltL]$/;

const HIGH_MARK = -1;
const LOW_MARK = 1;
/** From one mark to the next above it. */
const STOREY = 1.7;

const drawnOf = (table: Readonly<Record<string, Letter>>, marks: readonly string[]): readonly Letter[] =>
  marks.flatMap((mark) => {
    const drawn = Object.hasOwn(table, mark) ? table[mark] : undefined;
    return drawn === undefined ? [] : [drawn];
  });

/** A letter with marks over and under it; marks that are not drawn are left out. `undefined` for a letter that is not. */
export function markedLetter(base: string, marks: readonly string[]): Letter | undefined {
  const plain = Object.hasOwn(LETTERS, base) ? LETTERS[base] : undefined;
  if (plain === undefined) return undefined;
  if (TALL.test(base) && marks[0] === "\u030c") {
    const [width, stroke] = plain;
    return [width + 0.9, `${stroke}M${width + 0.9} 0l-0.3 1.5`];
  }
  const [over, under] = [drawnOf(OVER, marks), drawnOf(UNDER, marks)];
  const [width, stroke] = over.length > 0 ? (DOTLESS[base] ?? plain) : plain;
  // A mark that is wider than its letter must not touch its neighbours'.
  const room = Math.max(width, ...[...over, ...under].map(([wide]) => wide));
  const before = (room - width) / 2;
  const level = LOW.test(base) ? LOW_MARK : HIGH_MARK;
  const strokes = [
    ...over.map(([, mark], k) => `M${room / 2} ${level - k * STOREY}${mark}`),
    ...under.map(([, mark]) => `M${room / 2} 7${mark}`),
  ];
  return [room, `${before === 0 ? stroke : moveAlong(stroke, before)}${strokes.join("")}`];
}

const moveAlong = (stroke: string, by: number): string =>
  writePath(transformPath(readPath(stroke), translation(by, 0)), 3);
