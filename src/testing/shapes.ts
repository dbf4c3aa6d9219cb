/** A square on the motif's frame within which a shape is drawn, in user units. */
export interface ShapeFrame {
  readonly x: number;
  readonly y: number;
  readonly side: number;
}

/** One shape as the inside of an SVG element: its name and the attributes that draw it. */
export type DrawShape = (frame: ShapeFrame) => string;

const number = (value: number): string => String(Number(value.toFixed(3)));

/** Path data whose coordinates are shares of the frame's side. */
function pathIn({ x, y, side }: ShapeFrame, data: string): string {
  let isX = true;
  return data.replace(/[\d.]+/g, (share) => {
    const value = (isX ? x : y) + Number(share) * side;
    isX = !isX;
    return number(value);
  });
}

const path =
  (data: string): DrawShape =>
  (frame) =>
    `<path d="${pathIn(frame, data)}"`;

/**
 * The shapes, simplest first. A hook and a comma are not symmetrical in any way, so that a wrong flip or turn shows;
 * a bar is thin; a ring and a window have holes.
 */
export const SHAPES: Readonly<Record<string, DrawShape>> = {
  square: ({ x, y, side }) =>
    `<rect x="${number(x)}" y="${number(y)}" width="${number(side)}" height="${number(side)}"`,
  dot: ({ x, y, side }) =>
    `<circle cx="${number(x + side / 2)}" cy="${number(y + side / 2)}" r="${number(side / 2)}"`,
  leaf: path("M.5 0C.9 .35 .8 .75 .5 1C.2 .75 .1 .35 .5 0Z"),
  hook: path("M0 0L1 0L1 .35L.4 .35L.4 1L0 1Z"),
  comma: path("M.2 .1C.7 0 1 .3 .9 .6C.8 .9 .5 1 .1 1C.4 .8 .5 .6 .3 .5C.1 .4 .1 .2 .2 .1Z"),
  bar: path("M0 .45L1 .45L1 .55L0 .55Z"),
  star: path("M.5 0L.62 .38L1 .38L.69 .6L.8 1L.5 .75L.2 1L.31 .6L0 .38L.38 .38Z"),
};

/** Shapes with holes, painted by the even-odd rule. */
export const HOLED_SHAPES: Readonly<Record<string, DrawShape>> = {
  window: path("M0 0L1 0L1 1L0 1ZM.25 .25L.75 .25L.75 .6L.25 .6Z"),
  ring: path(
    "M1 .5C1 .776 .776 1 .5 1C.224 1 0 .776 0 .5C0 .224 .224 0 .5 0C.776 0 1 .224 1 .5Z" +
      "M.7 .5C.7 .61 .61 .7 .5 .7C.39 .7 .3 .61 .3 .5C.3 .39 .39 .3 .5 .3C.61 .3 .7 .39 .7 .5Z",
  ),
};
