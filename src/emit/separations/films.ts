import { aText, listOf } from "../../checks.js";
import { RepetendError } from "../../errors.js";
import {
  type InkPlanes,
  type PixelImage,
  type PlaneBand,
  placeOfInk,
  printingOrder,
  type ScreenKind,
  Separator,
} from "../../image/index.js";
import { LONGEST_REACH } from "../../image/reach.js";
import { checkIndexed } from "../../image/weight-plane.js";
import { aPrint } from "../../repeat/checks.js";
import { type PixelGridOptions, type Print, pixelGrid } from "../../repeat/index.js";
import { type Length, mm } from "../../units/index.js";
import { aPlanGrid, planSeparationsOptions } from "../checks.js";
import type { PlannedFile } from "../files/manifest.js";
import { slugOf } from "../files/slug.js";
import type { TiffCompression } from "../tiff/format.js";
import { AS_DRAWN, type TilePlan } from "../tile/plan.js";

/** What the separations of a print are like. */
export interface SeparationOptions {
  /** How far lighter inks run on under darker ones, so that no cloth shows where screens are laid a little apart. Default 0. */
  readonly trap?: Length;
  /** Turns tones into dots, one bit a pixel. Default: none, one byte a pixel. */
  readonly screen?: ScreenKind;
  /** A further file, printed first on dark cloth: the union of some inks. Default: none. */
  readonly underBase?: UnderBaseOptions;
  /** What full ink is in the file: the highest level, or black as on a film. Default "high". */
  readonly full?: "high" | "black";
  /** Default "png". */
  readonly format?: "png" | "tiff";
  /** Of TIFFs. Default "deflate". */
  readonly compression?: TiffCompression;
}

/** What lies under the inks on dark cloth. */
export interface UnderBaseOptions {
  /** Default: all inks lighter than the ground; all inks where there is none. */
  readonly inks?: readonly string[];
  /** How far it is drawn back from its edges. Default 0. */
  readonly choke?: Length;
}

/** One file before it is drawn. */
export interface Film {
  readonly file: PlannedFile;
  readonly rows: (band: PlaneBand) => PixelImage;
  /** The places of the inks that it is the plain sum of. */
  readonly plain: readonly number[] | undefined;
}

/** The names of the separations of a print, by order and ink. */
export function planSeparations(
  print: Print,
  tile: Pick<TilePlan, "grid">,
  inks: readonly string[],
  options: Pick<SeparationOptions, "underBase" | "format">,
): readonly PlannedFile[] {
  aPrint(print, "print");
  aPlanGrid(tile, "tile");
  listOf(aText)(inks, "inks");
  planSeparationsOptions(options, "options");
  const { underBase, format = "png" } = options;
  const { grid } = tile;
  const slug = slugOf(print.name);
  const digits = Math.max(2, String(inks.length).length);
  const file = (order: number, kind: "separation" | "under-base", ink: string | undefined): PlannedFile => ({
    path: `${slug}--${String(order).padStart(digits, "0")}-${ink === undefined ? "under-base" : ink.slice(1)}.${format === "tiff" ? "tif" : "png"}`,
    kind,
    format,
    colourway: AS_DRAWN.name,
    ...(ink === undefined ? {} : { ink }),
    ...grid.tile,
    mm: grid.mm,
    dpi: grid.dpi,
  });
  return [
    ...(underBase !== undefined ? [file(0, "under-base", undefined)] : []),
    ...inks.map((ink, at) => file(at + 1, "separation", ink)),
  ];
}

/** The inks under which the cloth is covered: those that are named, or all that are lighter than the ground. */
export function underBaseInks(
  { ground }: Print,
  order: readonly string[],
  { inks }: UnderBaseOptions = {},
): readonly string[] {
  return inks ?? (ground === undefined ? order : order.slice(0, order.indexOf(ground)));
}

/** The films of ink planes, in printing order. */
export function planFilms(
  print: Print,
  planes: InkPlanes,
  options: SeparationOptions & PixelGridOptions,
): readonly Film[] {
  const grid = pixelGrid(print, options);
  const pixels = (length: Length | undefined, where: string) => {
    const value = length === undefined ? 0 : mm(length);
    if (!(value >= 0)) {
      throw new RepetendError("E_NUMBER", "a width of trap or choke is 0 or more", {
        where,
        value: String(length),
        accepted: "a length of 0 or more",
      });
    }
    const far = { x: (value * grid.dpi.x) / 25.4, y: (value * grid.dpi.y) / 25.4 };
    if (Math.max(far.x, far.y) <= LONGEST_REACH) return far;
    throw new RepetendError("E_NUMBER", "inks cannot run on or be drawn back this far", {
      where,
      value: `${Number(Math.max(far.x, far.y).toFixed(1))} px`,
      accepted: `0 to ${LONGEST_REACH} px at this resolution`,
    });
  };
  const trap = pixels(options.trap, "trap");
  const isTrapped = trap.x > 0;
  if (isTrapped || pixels(options.underBase?.choke, "underBase.choke").x > 0) checkIndexed(planes);
  const separator = new Separator(planes, {
    wrapY: print.kind === "all-over",
    ...(isTrapped ? { trap } : {}),
  });
  const order = printingOrder(planes);
  const { underBase } = options;
  const files = planSeparations(print, { grid }, order, options);
  return files.map((file): Film => {
    const { ink } = file;
    if (ink !== undefined) {
      return {
        file,
        rows: (band) => separator.separate(ink, band),
        plain: isTrapped ? undefined : [planes.inks.indexOf(ink)],
      };
    }
    const inks = underBaseInks(print, order, underBase);
    const places = inks.map((one) => placeOfInk(planes, one));
    const choke = pixels(underBase?.choke, "underBase.choke");
    return {
      file,
      rows: (band) => separator.underBase(inks, band, choke),
      plain: choke.x > 0 ? undefined : places,
    };
  });
}
