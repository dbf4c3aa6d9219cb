import { Resvg } from "@resvg/resvg-js";
import type { Motif } from "../src/motif/index.js";
import { element, serialise, writeNumber } from "../src/svg/index.js";

/** Pixels along the longer side: four to a unit of the drawings that are compared. */
export const SIDE = 288;

/** A motif alone in a document of its own, at its natural size. */
export function documentOf(motif: Motif): string {
  const { x, y, width, height } = motif.viewBox;
  const box = [x, y, width, height].map((value) => writeNumber(value, 9)).join(" ");
  const root = {
    xmlns: "http://www.w3.org/2000/svg",
    width: `${writeNumber(motif.width, 9)}mm`,
    height: `${writeNumber(motif.height, 9)}mm`,
    viewBox: box,
  };
  return serialise(element("svg", root, [element("defs", {}, motif.defs), ...motif.body]));
}

export interface Pixels {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

/** Renders SVG text so that its longer side has {@link SIDE} pixels. */
export function renderText(svg: string): Pixels {
  const { width, height } = new Resvg(svg, { font: { loadSystemFonts: false } });
  const mode = width >= height ? "width" : "height";
  const image = new Resvg(svg, { font: { loadSystemFonts: false }, fitTo: { mode, value: SIDE } }).render();
  return { width: image.width, height: image.height, data: image.pixels };
}

export interface Difference {
  /** Share of pixels that differ by more than 8 of 255 levels in some channel. */
  readonly share: number;
  /** Mean over the pixels of the largest difference of a channel, in levels. */
  readonly mean: number;
}

/**
 * What anti-aliasing may do. Numbers are rounded to a millionth of the drawing, 0.0003 px here, and the renderer samples
 * edges on lines a quarter of a pixel apart. An edge pixel changes visibly (by up to a quarter of its contrast) only when
 * rounding carries an edge over such a line, which happens to 0.0006 / 0.25 = 0.24 % of edge pixels, and no drawing here
 * has edges in more than 40 % of its pixels: together 0.1 % of all.
 */
export const NOISE: Difference = { share: 0.001, mean: 1 };

/** How far two pictures are apart; pictures of different sizes are apart everywhere. */
export function difference(one: Pixels, other: Pixels): Difference {
  if (one.width !== other.width || one.height !== other.height) return { share: 1, mean: 255 };
  let above = 0;
  let sum = 0;
  for (let index = 0; index < one.data.length; index += 4) {
    let most = 0;
    for (let channel = 0; channel < 4; channel++) {
      most = Math.max(most, Math.abs((one.data[index + channel] ?? 0) - (other.data[index + channel] ?? 0)));
    }
    if (most > 8) above += 1;
    sum += most;
  }
  const count = one.data.length / 4;
  return { share: above / count, mean: sum / count };
}

/** How many pixels are not empty. */
export function paintedPixels({ data }: Pixels): number {
  let count = 0;
  for (let index = 3; index < data.length; index += 4) if (data[index] !== 0) count += 1;
  return count;
}
