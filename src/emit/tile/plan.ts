import type { Colourway } from "../../colour/index.js";
import { type Note, RepetendError } from "../../errors.js";
import type { Box } from "../../geometry/index.js";
import { aPrint } from "../../repeat/checks.js";
import {
  cellOf,
  checkColourway,
  enlargementOf,
  type PixelGrid,
  type PixelGridOptions,
  type Print,
  pixelGrid,
  readWindow,
  resizePrint,
  type Window,
} from "../../repeat/index.js";
import { type Length, mm, type PixelAxis } from "../../units/index.js";
import { HIGHEST_DPI } from "../../units/resolution.js";
import { tilePlanOptions } from "../checks.js";
import type { PlannedFile } from "../files/manifest.js";
import { slugOf, slugsOf } from "../files/slug.js";
import { PNG_LIMIT } from "../png/format.js";
import { TIFF_LIMIT, type TiffCompression } from "../tiff/format.js";

/** What of a tile is written, and how. */
export interface TilePlanOptions extends PixelGridOptions {
  /** Default: SVG and PNG. */
  readonly formats?: readonly ("svg" | "png" | "tiff")[];
  /** Of TIFFs. Default "deflate". */
  readonly compression?: TiffCompression;
  /** Of TIFFs; PNGs are RGB. CMYK needs a profile; both need a print with a ground. Default "rgb". */
  readonly space?: "rgb" | "cmyk" | "lab";
  /**
   * An ICC profile, as the path of its file or its bytes: of CMYK, by which the inks are converted, and which is embedded;
   * of RGB, only embedded, in place of sRGB.
   */
  readonly profile?: string | Uint8Array;
  /** One file a format for each; default: one as drawn. */
  readonly colourways?: readonly Colourway[];
  /** "hard": no anti-aliasing, and a palette where the print has at most 256 inks. Default "soft". */
  readonly edges?: "soft" | "hard";
  /** Refuses colourways that do not fit the print, instead of noting it. Default false. */
  readonly strict?: boolean;
  /** Adds cloth of at least this length along the warp, in whole repeats of the tile. */
  readonly length?: Length;
  /** Adds a strike-off: this window of the endless cloth, in lengths on the cloth as printed. */
  readonly crop?: Window;
}

/** A file of a tile before it is drawn. */
export interface PlannedTileFile {
  readonly file: PlannedFile;
  readonly colourway: Colourway;
}

/** The files of a tile before any of them is drawn. */
export interface TilePlan {
  /** The print as large as it is printed, with scale and shrinkage, in mm. */
  readonly print: Print;
  readonly grid: PixelGrid;
  readonly files: readonly PlannedTileFile[];
  /** How many tiles yardage has along each axis. */
  readonly repeats: { readonly x: number; readonly y: number };
  /** The strike-off in whole pixels of the endless field. */
  readonly crop: Box | undefined;
  readonly notes: readonly Note[];
}

/** The colourway of the artwork's own inks. */
export const AS_DRAWN: Colourway = { kind: "colourway", name: "As drawn", inks: {} };

/** What the files of a kind show of the print, in mm. */
export function windowOf(
  { grid, crop, repeats }: Pick<TilePlan, "grid" | "crop" | "repeats">,
  kind: PlannedFile["kind"],
): Box {
  const { width, height } = grid.mm;
  if (kind === "yardage") return { x: 0, y: 0, width: width * repeats.x, height: height * repeats.y };
  if (kind !== "strike-off" || crop === undefined) return { x: 0, y: 0, width, height };
  const [x, y] = [width / grid.tile.width, height / grid.tile.height];
  return { x: crop.x * x, y: crop.y * y, width: crop.width * x, height: crop.height * y };
}

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

/** How many tiles a length of cloth takes. A thousandth of a repeat less is rounding, not cloth. */
function countRepeats(print: Print, grid: PixelGrid, length: Length | undefined): { x: number; y: number } {
  if (length === undefined) return { x: 1, y: 1 };
  const asked = mm(length);
  if (!(asked > 0)) {
    throw new RepetendError("E_SIZE", "yardage has a length above 0", {
      where: "length",
      value: String(length),
      accepted: 'a length, for example "5m"',
    });
  }
  const repeat = print.grain === "x" ? grid.mm.width : grid.mm.height;
  const count = Math.max(1, Math.ceil(asked / repeat - 1e-3));
  return print.grain === "x" ? { x: count, y: 1 } : { x: 1, y: count };
}

/** A window of the cloth in whole pixels, at least one. */
function cropPixels(grid: PixelGrid, crop: Window | undefined): Box | undefined {
  if (crop === undefined) return undefined;
  const box = readWindow(crop);
  const x = (value: number) => Math.round((value * grid.tile.width) / grid.mm.width);
  const y = (value: number) => Math.round((value * grid.tile.height) / grid.mm.height);
  return {
    x: x(box.x),
    y: y(box.y),
    width: Math.max(1, x(box.width)),
    height: Math.max(1, y(box.height)),
  };
}

/** Whether a strike-off shows what lies beyond a selvedge, where there is nothing. */
export const leavesCloth = (print: Print, grid: PixelGrid, crop: Box): boolean =>
  print.kind === "border" && (crop.y < 0 || crop.y + crop.height > grid.tile.height);

/** The shapes in which a print is written. */
interface Shape {
  readonly kind: "tile" | "yardage" | "strike-off";
  /** Stands behind the colourway in file names. */
  readonly suffix: string;
  readonly pixels: { readonly width: number; readonly height: number };
  readonly mm: { readonly width: number; readonly height: number };
  readonly repeats?: number;
}

function planShapes(
  grid: PixelGrid,
  options: TilePlanOptions,
  repeats: { x: number; y: number },
  crop: Box | undefined,
): readonly Shape[] {
  const { width, height } = grid.tile;
  const times = (x: number, y: number): Pick<Shape, "pixels" | "mm"> => ({
    pixels: { width: x * width, height: y * height },
    mm: { width: x * grid.mm.width, height: y * grid.mm.height },
  });
  const shapes: Shape[] = [{ kind: "tile", suffix: "", ...times(1, 1) }];
  const count = repeats.x * repeats.y;
  if (options.length !== undefined) {
    const suffix = `--${count}-repeat${count === 1 ? "" : "s"}`;
    shapes.push({ kind: "yardage", suffix, ...times(repeats.x, repeats.y), repeats: count });
  }
  if (crop !== undefined) {
    const pixels = { width: crop.width, height: crop.height };
    shapes.push({
      kind: "strike-off",
      suffix: "--strike-off",
      pixels,
      mm: {
        width: (pixels.width * grid.mm.width) / width,
        height: (pixels.height * grid.mm.height) / height,
      },
    });
  }
  return shapes;
}

function checkPixels(print: Print, { pixels: { width, height } }: Shape, isPng: boolean): void {
  const most = isPng ? PNG_LIMIT : TIFF_LIMIT;
  if (width <= most && height <= most) return;
  throw new RepetendError(
    "E_TOO_LARGE",
    `the file has more pixels than a ${isPng ? "PNG" : "TIFF"} can hold`,
    {
      input: print.name,
      value: `${width} x ${height} px`,
      accepted: `at most ${most} px each way`,
    },
  );
}

/** Refuses a repeat so small that its one pixel would call for a resolution that no file states. */
function checkRepeat(print: Print, { mm: size, dpi, tile }: PixelGrid): void {
  if (Math.max(dpi.x, dpi.y) <= HIGHEST_DPI) return;
  throw new RepetendError("E_SIZE", "the repeat is too small for whole pixels", {
    input: print.name,
    value: `${size.width} x ${size.height} mm in ${tile.width} x ${tile.height} px`,
    accepted: `a larger scale: at most ${HIGHEST_DPI} dpi`,
  });
}

/** Refuses spaces that the files or the print cannot have. */
function checkSpace(print: Print, { formats = [], space = "rgb", profile }: TilePlanOptions): void {
  if (space === "rgb") return;
  const refuse = (problem: string, where: string, accepted: string): never => {
    throw new RepetendError("E_FORMAT", problem, { input: print.name, where, value: space, accepted });
  };
  if (!formats.includes("tiff")) refuse("only a TIFF holds such colours", "space", 'formats with "tiff"');
  if (print.ground === undefined)
    refuse("bare cloth has no colour in this space", "space", "a print with a ground");
  if (space === "cmyk" && profile === undefined) {
    refuse("the inks of a press are not known without its profile", "profile", "a CMYK profile");
  }
}

/** Refuses spaces in which a strike-off has no colour for what lies beyond a selvedge. */
function checkBareSpace(print: Print, { space = "rgb" }: TilePlanOptions): void {
  if (space === "rgb") return;
  throw new RepetendError("E_FORMAT", "beyond a selvedge there is no colour in this space", {
    input: print.name,
    where: "crop",
    value: space,
    accepted: "a window inside the cloth, or RGB",
  });
}

/** The print in the millimetres that it is printed in: enlarged by scale and shrinkage, before whole pixels. */
export function enlargePrint(print: Print, options: Omit<PixelGridOptions, "dpi">): Print {
  const enlarged = enlargementOf(print, options);
  const cell = cellOf(print);
  return resizePrint(print, { width: cell.width * enlarged.x, height: cell.height * enlarged.y });
}

/**
 * Works out the files of a tile, of yardage and of a strike-off: names, pixels, sizes and notes, without drawing.
 *
 * @throws `RepetendError` E_NUMBER, E_UNIT, E_SIZE for options out of range; E_TOO_LARGE for a size that a file cannot
 * hold; E_FORMAT for colours that it cannot hold; E_COLOURWAY in strict mode.
 */
export function planTile(print: Print, options: TilePlanOptions): TilePlan {
  aPrint(print, "print");
  tilePlanOptions(options, "options");
  const { formats = ["svg", "png"], colourways = [], strict = false } = options;
  const grid = pixelGrid(print, options);
  const repeats = countRepeats(print, grid, options.length);
  const crop = cropPixels(grid, options.crop);
  const shapes = planShapes(grid, options, repeats, crop);
  const isDrawn = formats.some((format) => format !== "svg");
  if (isDrawn) {
    checkRepeat(print, grid);
    for (const shape of shapes) checkPixels(print, shape, formats.includes("png"));
  }
  checkSpace(print, options);
  if (crop !== undefined && leavesCloth(print, grid, crop)) checkBareSpace(print, options);
  const inks = colourways.length > 0 ? colourways : [AS_DRAWN];
  const slugs = slugsOf(inks.map((one) => one.name));
  const deviation = ({ microns, micronsPerMetre }: PixelAxis) => ({ microns, micronsPerMetre });
  const resolution = { dpi: grid.dpi, deviation: { x: deviation(grid.x), y: deviation(grid.y) } };
  const files = shapes.flatMap(({ kind, suffix, pixels, mm: size, repeats: count }) =>
    inks.flatMap((colourway, index) =>
      [...new Set(formats)].map((format) => {
        const file: PlannedFile = {
          path: `${slugOf(print.name)}--${slugs[index]}${suffix}.${format === "tiff" ? "tif" : format}`,
          kind,
          format,
          colourway: colourway.name,
          mm: size,
          ...(count === undefined ? {} : { repeats: count }),
          ...(format === "svg" ? {} : { ...pixels, ...resolution }),
        };
        return { file, colourway };
      }),
    ),
  );
  return {
    print: enlargePrint(print, options),
    grid,
    files,
    repeats,
    crop,
    notes: [
      ...colourways.flatMap((colourway) => checkColourway(print, colourway, { strict })),
      ...(isDrawn && !grid.x.isExact ? [pixelNote("width", grid.x)] : []),
      ...(isDrawn && !grid.y.isExact ? [pixelNote("height", grid.y)] : []),
    ],
  };
}
