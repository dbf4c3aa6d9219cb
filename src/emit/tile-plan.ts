import type { Colourway } from "../colour/index.js";
import { type Note, RepetendError } from "../errors.js";
import {
  cellOf,
  checkColourway,
  enlargementOf,
  type PixelGrid,
  type PixelGridOptions,
  type Print,
  pixelGrid,
  resizePrint,
} from "../repeat/index.js";
import type { PixelAxis } from "../units/index.js";
import type { PlannedFile } from "./manifest.js";
import { PNG_LIMIT } from "./png-format.js";
import { slugOf, slugsOf } from "./slug.js";

/** What of a tile is written, and how. */
export interface TilePlanOptions extends PixelGridOptions {
  /** Default: both. */
  readonly formats?: readonly ("svg" | "png")[];
  /** One file a format for each; default: one as drawn. */
  readonly colourways?: readonly Colourway[];
  /** "hard": no anti-aliasing, and a palette where the print has at most 256 inks. Default "soft". */
  readonly edges?: "soft" | "hard";
  /** Refuses colourways that do not fit the print, instead of noting it. Default false. */
  readonly strict?: boolean;
}

/** The files of a tile before any of them is drawn. */
export interface TilePlan {
  /** The print as large as it is printed, with scale and shrinkage, in mm. */
  readonly print: Print;
  readonly grid: PixelGrid;
  readonly files: readonly { readonly file: PlannedFile; readonly colourway: Colourway }[];
  readonly notes: readonly Note[];
}

/** The colourway of the artwork's own inks. */
export const AS_DRAWN: Colourway = { kind: "colourway", name: "As drawn", inks: {} };

const round = (value: number): number => Number(value.toFixed(3));

function pixelNote(side: string, axis: PixelAxis): Note {
  const { below, above } = axis.exactWhole;
  const exact = [below, above].filter((one) => one !== undefined).map((one) => `${round(one.dpi)} dpi`);
  return {
    level: "info",
    code: "N_PIXELS",
    message:
      `the repeat's ${side} is ${round(axis.asked)} pixels at this resolution; ${axis.pixels} are drawn, ` +
      `${round(axis.microns)} µm a repeat and ${round(axis.micronsPerMetre)} µm a metre off` +
      (exact.length > 0 ? `; exact at ${exact.join(" and ")}` : ""),
    where: side,
  };
}

/**
 * Works out the files of a tile: names, pixels, sizes and notes, without drawing.
 *
 * @throws `RepetendError` E_NUMBER, E_UNIT for options out of range; E_TOO_LARGE for a size that a PNG cannot
 * hold; E_COLOURWAY in strict mode.
 */
export function planTile(print: Print, options: TilePlanOptions): TilePlan {
  const { formats = ["svg", "png"], colourways = [], strict = false } = options;
  const grid = pixelGrid(print, options);
  const { width, height } = grid.tile;
  if (formats.includes("png") && (width > PNG_LIMIT || height > PNG_LIMIT)) {
    throw new RepetendError("E_TOO_LARGE", "the tile has more pixels than a PNG can hold", {
      input: print.name,
      value: `${width} x ${height} px`,
      accepted: `at most ${PNG_LIMIT} px each way`,
    });
  }
  const inks = colourways.length > 0 ? colourways : [AS_DRAWN];
  const slugs = slugsOf(inks.map((one) => one.name));
  const deviation = ({ microns, micronsPerMetre }: PixelAxis) => ({ microns, micronsPerMetre });
  const pixels = { width, height, dpi: grid.dpi, deviation: { x: deviation(grid.x), y: deviation(grid.y) } };
  const files = inks.flatMap((colourway, index) =>
    [...new Set(formats)].map((format) => {
      const path = `${slugOf(print.name)}--${slugs[index]}.${format}`;
      const file: PlannedFile = {
        path,
        kind: "tile",
        format,
        colourway: colourway.name,
        mm: grid.mm,
        ...(format === "png" ? pixels : {}),
      };
      return { file, colourway };
    }),
  );
  const enlarged = enlargementOf(print, options);
  const cell = cellOf(print);
  return {
    print: resizePrint(print, { width: cell.width * enlarged.x, height: cell.height * enlarged.y }),
    grid,
    files,
    notes: [
      ...colourways.flatMap((colourway) => checkColourway(print, colourway, { strict })),
      ...(formats.includes("png") && !grid.x.isExact ? [pixelNote("width", grid.x)] : []),
      ...(formats.includes("png") && !grid.y.isExact ? [pixelNote("height", grid.y)] : []),
    ],
  };
}
