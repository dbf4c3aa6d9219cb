import { RepetendError } from "../errors.js";
import type { Box } from "../geometry/index.js";
import type { PixelImage, Rasterise } from "../image/index.js";
import { readNumber } from "./bounds.js";
import { comparePixels, type PixelsApart } from "./compare-pixels.js";
import { isPixels, type MatcherResult, refuseSubject, write } from "./matcher.js";

/** By how much a cloth is moved: right and down, what is left out is 0. Whole pixels of a picture, mm of a cloth. */
export interface RepeatVector {
  readonly x?: number;
  readonly y?: number;
}

/** A cloth as a function: what a window of it (in mm) shows, as pixels or SVG text. */
export type ShowCloth = (window: Box) => PixelImage | string | Promise<PixelImage | string>;

/** How `toRepeatEvery` compares. */
export interface RepeatEveryOptions {
  /** Levels of 255 by which a channel may differ, inclusive, 0 to 255. Default 0. */
  readonly tolerance?: number;
  /** The share of pixels that may differ by more, inclusive, 0 to 1. Default 0. */
  readonly share?: number;
  /** Of a function: the window that is compared with the one a vector on, in mm. Default 100 x 100 at the origin. */
  readonly window?: Box;
  /** Of a function that gives SVG text: renders both windows. Default: the texts must be the same. */
  readonly rasterise?: Rasterise;
  /** Dots per inch for `rasterise`, 1 to 2400. Default 72. */
  readonly dpi?: number;
}

const MM_PER_INCH = 25.4;
const WINDOW: Box = { x: 0, y: 0, width: 100, height: 100 };

interface Vector {
  readonly x: number;
  readonly y: number;
}

function readVector({ x = 0, y = 0 }: RepeatVector): Vector {
  if (Number.isFinite(x) && Number.isFinite(y) && (x !== 0 || y !== 0)) return { x, y };
  throw new RepetendError("E_NUMBER", "a repeat is a vector that moves the cloth", {
    where: "toRepeatEvery",
    value: `${x}, ${y}`,
    accepted: "finite numbers, not both 0",
  });
}

/** What a comparison found, and where the first fault lies, in words. */
interface Verdict {
  readonly pass: boolean;
  readonly faults: () => readonly string[];
}

function judgePixels(
  apart: PixelsApart,
  share: number,
  unit: string,
  placeOf: (x: number, y: number) => string,
): Verdict {
  const { first, pixels, all, worst } = apart;
  return {
    pass: pixels <= share * all,
    faults: () => [
      ...(first === undefined
        ? []
        : [`  first at ${placeOf(first.x, first.y)}: ${first.one} there, ${first.other} one ${unit} on`]),
      `  ${pixels} of ${all} pixels differ (${write((100 * pixels) / all, 3)} %), by up to ${write(worst, 1)} of 255 levels`,
    ],
  };
}

/** A picture against itself, over all that has a partner one vector on. */
function judgePicture(image: PixelImage, vector: Vector, tolerance: number, share: number): Verdict {
  const [width, height] = [image.width - Math.abs(vector.x), image.height - Math.abs(vector.y)];
  if (!Number.isInteger(vector.x) || !Number.isInteger(vector.y) || width < 1 || height < 1) {
    throw new RepetendError("E_NUMBER", "a picture repeats by whole pixels, and shows more than one repeat", {
      where: "toRepeatEvery",
      value: `${vector.x}, ${vector.y} px on ${image.width} x ${image.height} px`,
      accepted: "whole pixels below the picture's size",
    });
  }
  const start = { x: Math.max(0, -vector.x), y: Math.max(0, -vector.y) };
  const other = { image, x: start.x + vector.x, y: start.y + vector.y };
  const apart = comparePixels({ width, height, one: { image, ...start }, other }, tolerance);
  return judgePixels(apart, share, "repeat", (x, y) => `pixel ${start.x + x}, ${start.y + y}`);
}

function judgeTexts(one: string, other: string): Verdict {
  return {
    pass: one === other,
    faults: () => {
      const at = [...one].findIndex((letter, place) => letter !== other[place]);
      const from = Math.max(0, (at < 0 ? one.length : at) - 20);
      const excerpt = (text: string) => JSON.stringify(text.slice(from, from + 60));
      return [
        `  the texts first differ at character ${at < 0 ? one.length : at}: ${excerpt(one)} there, ${excerpt(other)} one repeat on`,
        "  hand in { rasterise } to compare what they show",
      ];
    },
  };
}

async function judgeCloth(show: ShowCloth, vector: Vector, options: RepeatEveryOptions): Promise<Verdict> {
  const window = options.window ?? WINDOW;
  const dpi = readNumber("dpi", options.dpi ?? 72, { atLeast: 1, atMost: 2400 });
  const pixels = (mm: number) => Math.max(1, Math.round((mm / MM_PER_INCH) * dpi));
  const size = { width: pixels(window.width), height: pixels(window.height) };
  const { rasterise } = options;
  const see = async (box: Box) => {
    const shown = await show(box);
    return typeof shown === "string" && rasterise ? rasterise(shown, size) : shown;
  };
  const one = await see(window);
  const other = await see({ ...window, x: window.x + vector.x, y: window.y + vector.y });
  if (typeof one === "string" && typeof other === "string") return judgeTexts(one, other);
  if (!isPixels(one) || !isPixels(other)) {
    throw refuseSubject(
      "toRepeatEvery",
      isPixels(one) ? other : one,
      "a function to a PixelImage or SVG text",
    );
  }
  const { width, height } = one;
  if (other.width !== width || other.height !== height) {
    const sizes = `${width} x ${height} px there, ${other.width} x ${other.height} px one repeat on`;
    return { pass: false, faults: () => [`  the windows differ in size: ${sizes}`] };
  }
  const apart = comparePixels(
    { width, height, one: { image: one, x: 0, y: 0 }, other: { image: other, x: 0, y: 0 } },
    options.tolerance ?? 0,
  );
  const place = (pixel: number, sides: number, start: number, length: number) =>
    write(start + ((pixel + 0.5) / sides) * length);
  return judgePixels(apart, options.share ?? 0, "repeat", (x, y) => {
    const [across, down] = [
      place(x, width, window.x, window.width),
      place(y, height, window.y, window.height),
    ];
    return `${across}, ${down} mm of the cloth (pixel ${x}, ${y} of the window)`;
  });
}

function answer(subject: string, vector: Vector, unit: string, { pass, faults }: Verdict): MatcherResult {
  const by = `${write(vector.x, 3)} ${unit} along and ${write(vector.y, 3)} ${unit} down`;
  return {
    pass,
    message: () =>
      pass
        ? `expected the ${subject} not to repeat every ${by}, but it does`
        : [`expected the ${subject} to repeat every ${by}`, ...faults()].join("\n"),
  };
}

/** Whether a picture, or a cloth as a function, is the same one vector on. */
export function toRepeatEvery(
  received: unknown,
  vector: RepeatVector,
  options: RepeatEveryOptions = {},
): MatcherResult | Promise<MatcherResult> {
  const by = readVector(vector);
  const tolerance = readNumber("tolerance", options.tolerance ?? 0, { atLeast: 0, atMost: 255 });
  const share = readNumber("share", options.share ?? 0, { atLeast: 0, atMost: 1 });
  if (isPixels(received)) return answer("picture", by, "px", judgePicture(received, by, tolerance, share));
  if (typeof received === "function") {
    return judgeCloth(received as ShowCloth, by, options).then((verdict) =>
      answer("cloth", by, "mm", verdict),
    );
  }
  throw refuseSubject(
    "toRepeatEvery",
    received,
    "a PixelImage, or a function from a window to one or to SVG text",
  );
}
