import type { Colourway } from "../../colour/index.js";
import { inksIn } from "../../image/index.js";
import { type BandPlan, planeInks } from "../../raster/index.js";
import { describeRepeat, type Print } from "../../repeat/index.js";
import type { Encoding } from "../bands/encoding.js";
import type { PlannedFile } from "../files/manifest.js";
import type { PngColour } from "../png/format.js";
import type { TiffColour, TiffCompression } from "../tiff/format.js";
import type { PlannedTileFile } from "./plan.js";
import type { PictureHeader } from "./write-bands.js";

/** What all pictures of a tile share. */
export interface PictureStyle {
  readonly print: Print;
  readonly plan: BandPlan;
  readonly compression: TiffCompression;
  /** Of TIFFs; PNGs are RGB. */
  readonly space: "rgb" | "cmyk" | "lab";
  /** A profile to embed. */
  readonly icc?: Uint8Array;
  /** Where the profile lies by which pixels become CMYK. */
  readonly profile?: string;
}

/** A palette holds so many entries (PNG specification, section 11.2.2; TIFF 6.0, section 5, for 8 bits). */
const PALETTE_LIMIT = 256;

/** Whether a file can hold places in a palette, where every pixel is one ink. */
export function takesPalette({ print, space }: PictureStyle, { format }: PlannedFile): boolean {
  const inks = planeInks(print).length;
  if (inks === 0 || inks > PALETTE_LIMIT) return false;
  return format === "png" || (space === "rgb" && print.ground !== undefined);
}

const paletteOf = (print: Print, colourway: Colourway): PngColour & TiffColour => ({
  kind: "palette",
  entries: inksIn({ inks: planeInks(print) }, colourway),
});

const wholeOf = (print: Print): PngColour & TiffColour => ({
  kind: print.ground === undefined ? "rgba" : "rgb",
});

function tiffColour({ print, space }: PictureStyle, isPlaces: boolean, colourway: Colourway): TiffColour {
  if (isPlaces) return paletteOf(print, colourway);
  return space === "rgb" ? wholeOf(print) : { kind: space };
}

/** Strips of whole cloth end where the tile does; those of one tile may be taller. */
const stripsOf = ({ plan }: PictureStyle, { kind, height = 0 }: PlannedFile): number =>
  kind === "yardage" && height > plan.height ? plan.unit : plan.strip;

/** How the rows of a file are stored. Places in a palette are stored alike in every colourway. */
export function encodingOf(
  style: PictureStyle,
  { file, colourway }: PlannedTileFile,
  isPlaces: boolean,
  asDrawn: Colourway,
): Encoding {
  const shown = isPlaces ? asDrawn : colourway;
  if (file.format !== "tiff") {
    const colour = isPlaces ? paletteOf(style.print, shown) : wholeOf(style.print);
    return { format: "png", colour, colourway: shown };
  }
  return {
    format: "tiff",
    colour: tiffColour(style, isPlaces, shown),
    colourway: shown,
    compression: style.compression,
    rowsPerStrip: stripsOf(style, file),
    ...(style.profile === undefined ? {} : { profile: style.profile }),
  };
}

/** What stands in a file beside its rows. `isOpaque`: whether it is RGB where it is no palette. */
export function pictureOf(
  style: PictureStyle,
  { file, colourway }: PlannedTileFile,
  isPlaces: boolean,
): PictureHeader {
  const { print, icc } = style;
  const shared = {
    width: file.width ?? 0,
    height: file.height ?? 0,
    ...(file.dpi === undefined ? {} : { dpi: file.dpi }),
    ...(icc === undefined || (file.format === "png" && style.space !== "rgb") ? {} : { icc }),
  };
  const repeat = describeRepeat(print);
  if (file.format !== "tiff") {
    const colour = isPlaces ? paletteOf(print, colourway) : wholeOf(print);
    const texts = { Title: print.name, Repeat: repeat, Colourway: file.colourway };
    return { format: "png", header: { ...shared, colour, texts } };
  }
  return {
    format: "tiff",
    header: {
      ...shared,
      colour: tiffColour(style, isPlaces, colourway),
      compression: style.compression,
      rowsPerStrip: stripsOf(style, file),
      texts: { documentName: print.name, description: `${repeat}; colourway ${file.colourway}` },
    },
  };
}
