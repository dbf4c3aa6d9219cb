import {
  aFlag,
  aList,
  aNumber,
  anObject,
  aText,
  type Check,
  check,
  listOf,
  made,
  maybe,
  oneOf,
  partsOf,
} from "../checks.js";
import type { ErrorCode } from "../errors.js";
import type { Box } from "../geometry/box.js";
import { aScope } from "../svg/checks.js";
import type { AllOverOptions } from "./build/all-over.js";
import type { BandOptions, BorderOptions } from "./build/border.js";
import type { PrintSize } from "./build/scale.js";
import type { FieldOptions } from "./draw/field.js";
import type { PixelGrid } from "./draw/pixel-grid.js";
import type { AllOver, Border, Print } from "./types.js";

const aMade = made("a print, from straight(), halfDrop(), border() ...", "all-over", "border");
const aMadeAllOver = made("an all-over print, from straight(), halfDrop() ...", "all-over");

const aLayout = made("a layout", "straight", "half-drop", "brick", "stepped", "satin");

/** What was kept as JSON may have lost a part, or be of other making; its lists are not looked into at each door. */
const allOverParts = partsOf<AllOver>({
  name: aText,
  layout: aLayout,
  width: aNumber,
  height: aNumber,
  ground: maybe(aText),
  motifs: aList,
});
const borderParts = partsOf<Border>({
  name: aText,
  repeat: aNumber,
  width: aNumber,
  ground: maybe(aText),
  bands: aList,
});

export const aPrint: Check = (value, where) => {
  aMade(value, where);
  if ((value as Print).kind === "border") borderParts(value, where);
  else allOverParts(value, where);
};

export const anAllOver: Check = (value, where) => {
  aMadeAllOver(value, where);
  allOverParts(value, where);
};

export const someMotifs: Check = listOf(made("a placed motif, from place()", "placement"));

export const aBox: Check = partsOf<Box>({ x: aNumber, y: aNumber, width: aNumber, height: aNumber });

export const aSize: Check = partsOf<PrintSize>({ width: aNumber, height: aNumber });

const wholeFrom = (least: number, code: ErrorCode): Check =>
  check(
    (value) => Number.isSafeInteger(value) && Number(value) >= least,
    `a whole number, ${least} or more`,
    code,
  );

const pixels = wholeFrom(1, "E_SIZE");
const aPixelSize = partsOf<PrintSize>({ width: pixels, height: pixels });
const aSpot = partsOf<{ readonly x: number; readonly y: number }>({ x: aNumber, y: aNumber });
const anExact = partsOf<PixelGrid["exact"]>({ below: maybe(anObject), above: maybe(anObject) });
const anAxis = partsOf<PixelGrid["x"]>({
  pixels,
  asked: aNumber,
  isExact: aFlag,
  dpi: aNumber,
  microns: aNumber,
  micronsPerMetre: aNumber,
  exact: anObject,
  exactWhole: anObject,
});

/** From `pixelGrid`; whether it is the grid of the print beside it is told where it is used. */
export const aPixelGrid: Check = partsOf<PixelGrid>({
  cell: aPixelSize,
  tile: aPixelSize,
  offset: aSpot,
  mm: aSize,
  dpi: aSpot,
  x: anAxis,
  y: anAxis,
  exact: anExact,
  exactWhole: anExact,
});

export const FIELD_PARTS: { readonly [Key in keyof FieldOptions]?: Check } = {
  scope: maybe(aScope),
  colourway: maybe(aText),
};

const aGrain = oneOf("x", "y");

export const allOverOptions: Check = partsOf<AllOverOptions>({
  name: aText,
  ground: maybe(aText),
  motifs: someMotifs,
  grain: maybe(aGrain),
});

const aBand = partsOf<BandOptions>({
  name: aText,
  edge: maybe(oneOf("top", "bottom")),
  fit: maybe(oneOf("scale", "space")),
  ground: maybe(aText),
  motifs: maybe(someMotifs),
  clip: maybe(aFlag),
});

export const borderOptions: Check = partsOf<BorderOptions>({
  name: aText,
  ground: maybe(aText),
  bands: listOf(aBand),
  grain: maybe(aGrain),
});
