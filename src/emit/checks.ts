import {
  aFlag,
  aFunction,
  aNumber,
  anObject,
  aSignal,
  aText,
  bytes,
  type Check,
  check,
  isBytes,
  listOf,
  maybe,
  oneOf,
  partsOf,
  tableOf,
} from "../checks.js";
import { aColourway } from "../colour/checks.js";
import { aSide } from "../image/checks.js";
import { aBox, aPixelGrid, aPrint, aSize } from "../repeat/checks.js";
import type { BandMaker } from "./bands/maker.js";
import type { BandPoolOptions } from "./bands/pool.js";
import type { FileSink } from "./files/atomic.js";
import type { PlannedFile } from "./files/manifest.js";
import type { GarmentPlan, GarmentPlanOptions, WriteGarmentOptions } from "./garment-files.js";
import type { PngHeader } from "./png/format.js";
import type { PngPiece } from "./png/piece.js";
import type { EmitSeparationsOptions } from "./separations/emit-separations.js";
import type { SeparationOptions, UnderBaseOptions } from "./separations/films.js";
import type { TiffHeader } from "./tiff/format.js";
import type { EmitTileOptions } from "./tile/emit-tile.js";
import type { PlannedTileFile, TilePlan, TilePlanOptions } from "./tile/plan.js";

const edges = maybe(oneOf("soft", "hard"));

export const aProfile: Check = check(
  (value) => typeof value === "string" || isBytes(value),
  "a path, or a profile's bytes",
);

const PLAN_PARTS: { readonly [Key in keyof TilePlanOptions]?: Check } = {
  formats: maybe(listOf(oneOf("svg", "png", "tiff"))),
  compression: maybe(oneOf("deflate", "lzw", "none")),
  space: maybe(oneOf("rgb", "cmyk", "lab")),
  profile: maybe(aProfile),
  colourways: maybe(listOf(aColourway)),
  edges,
  strict: maybe(aFlag),
  crop: maybe(anObject),
};

const aMaker = partsOf<BandMaker>({ atOnce: aNumber, make: aFunction, check: maybe(aFunction) });

const RUN_PARTS = {
  dir: aText,
  engine: maybe(aFunction),
  maker: maybe(aMaker),
  onFile: maybe(aFunction),
  finished: maybe(listOf(anObject)),
  signal: maybe(aSignal),
};

export const tilePlanOptions: Check = partsOf<TilePlanOptions>(PLAN_PARTS);

export const emitTileOptions: Check = partsOf<EmitTileOptions>({
  ...PLAN_PARTS,
  ...RUN_PARTS,
  onProgress: maybe(aFunction),
});

export const bandPoolOptions: Check = partsOf<BandPoolOptions>({
  engine: maybe(oneOf("native", "wasm")),
  program: maybe(check((value) => value instanceof URL, "a URL")),
});

const aSpot = partsOf<{ readonly x: number; readonly y: number }>({ x: aNumber, y: aNumber });

const aPlannedFile = partsOf<PlannedFile>({
  path: aText,
  kind: oneOf("tile", "yardage", "strike-off", "separation", "under-base", "garment", "sheet"),
  format: oneOf("svg", "png", "tiff"),
  colourway: aText,
  width: maybe(aSide),
  height: maybe(aSide),
  mm: aSize,
  dpi: maybe(aSpot),
});

const plannedFiles = listOf(partsOf<PlannedTileFile>({ file: aPlannedFile, colourway: aColourway }));

export const aTilePlan: Check = partsOf<TilePlan>({
  print: aPrint,
  grid: aPixelGrid,
  files: plannedFiles,
  repeats: partsOf<TilePlan["repeats"]>({ x: aSide, y: aSide }),
  crop: maybe(aBox),
  notes: listOf(anObject),
});

export const aPlanGrid: Check = partsOf<Pick<TilePlan, "grid">>({ grid: aPixelGrid });

export const aGarmentPlan: Check = partsOf<GarmentPlan>({
  pixels: partsOf<GarmentPlan["pixels"]>({ width: aSide, height: aSide }),
  files: plannedFiles,
});

export const garmentPlanOptions: Check = partsOf<GarmentPlanOptions>({
  print: aText,
  garment: aText,
  slug: maybe(aText),
  formats: maybe(listOf(oneOf("svg", "png"))),
  colourways: maybe(listOf(aColourway)),
});

export const writeGarmentOptions: Check = partsOf<WriteGarmentOptions>({
  dir: aText,
  engine: maybe(aFunction),
  onProgress: maybe(aFunction),
  onFile: maybe(aFunction),
  finished: maybe(listOf(anObject)),
  signal: maybe(aSignal),
});

const isOne = (value: unknown): boolean => value === 1 || value === 8;

/** How pixels are stored: a kind, and what belongs to it. */
const aColour =
  (...kinds: readonly string[]): Check =>
  (value, where) => {
    partsOf<{ readonly kind: string }>({ kind: oneOf(...kinds) })(value, where);
    const { kind } = value as { readonly kind: string };
    const parts: Readonly<Record<string, Check>> =
      kind === "palette"
        ? { entries: listOf(aText) }
        : kind === "grey"
          ? { depth: check(isOne, "1 or 8") }
          : {};
    partsOf<Record<string, unknown>>(parts)(value, where);
  };

export const aPngColour: Check = aColour("rgb", "rgba", "grey", "palette");

export const aTiffColour: Check = aColour("rgb", "rgba", "grey", "palette", "cmyk", "lab");

const aValue = check((value) => typeof value === "number", "a number");
const someValues = partsOf<{ readonly x: number; readonly y: number }>({ x: aValue, y: aValue });

/** Sizes and resolutions are told where files are begun. */
export const aPngHeader: Check = partsOf<PngHeader>({
  colour: aPngColour,
  dpi: maybe(someValues),
  texts: maybe(tableOf(aText)),
  icc: maybe(bytes),
  iccName: maybe(aText),
});

export const aPngPiece: Check = partsOf<PngPiece>({ deflated: bytes, adler: aNumber, length: aNumber });

export const storedStrips: Check = partsOf<TiffHeader>({
  compression: oneOf("deflate", "lzw", "none"),
});

/** Sizes and resolutions are told where files are begun. */
export const aTiffHeader: Check = partsOf<TiffHeader>({
  colour: aTiffColour,
  compression: oneOf("deflate", "lzw", "none"),
  dpi: maybe(someValues),
  texts: maybe(tableOf(maybe(aText))),
  icc: maybe(bytes),
});

export const aTiffRow: Check = partsOf<TiffHeader>({ colour: aTiffColour });

export const aSink: Check = partsOf<FileSink>({ write: aFunction, patch: aFunction });

/** Bands or pieces, one after the other, awaited or not. */
export const aSeries: Check = check(
  (value) =>
    typeof value === "object" &&
    value !== null &&
    (Symbol.iterator in value || Symbol.asyncIterator in value),
  "a list, or what yields one thing after the other",
);

export const planSeparationsOptions: Check = partsOf<SeparationOptions>({
  underBase: maybe(partsOf<UnderBaseOptions>({ inks: maybe(listOf(aText)) })),
  format: maybe(oneOf("png", "tiff")),
});

export const emitSeparationsOptions: Check = partsOf<EmitSeparationsOptions>({
  ...RUN_PARTS,
  edges,
  screen: maybe(oneOf("ordered", "blue-noise")),
  underBase: maybe(partsOf<UnderBaseOptions>({ inks: maybe(listOf(aText)) })),
  full: maybe(oneOf("high", "black")),
  format: maybe(oneOf("png", "tiff")),
  compression: maybe(oneOf("deflate", "lzw", "none")),
});
