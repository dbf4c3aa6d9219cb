import {
  aFlag,
  aFunction,
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
} from "../checks.js";
import { RepetendError } from "../errors.js";
import type { Box } from "../geometry/box.js";
import { aCount, anImage, aSide } from "../image/checks.js";
import type { PixelImage } from "../image/index.js";
import { aPrint } from "../repeat/checks.js";
import type { BandPatch, BandPlan, BandTask, TileBand } from "./band-plan.js";
import type { RenderSize } from "./engine.js";
import type { InkPlanesOptions, PlaneSource, StreamPlanesOptions } from "./planes.js";
import type { RasteriseSizing } from "./rasterise.js";
import type { RasterisePageOptions } from "./rasterise-page.js";

export const rasteriseSizing: Check = partsOf<RasteriseSizing>({ filters: maybe(aFlag) });

/** Whole pixels are told where they are rendered. */
export const aRenderSize: Check = partsOf<RenderSize>({ overscan: maybe(aCount) });

const RENDER_PARTS = {
  edges: maybe(oneOf("soft", "hard")),
  engine: maybe(aFunction),
  signal: maybe(aSignal),
};

export const renderOptions: Check = partsOf<InkPlanesOptions>(RENDER_PARTS);

export const windowOptions: Check = partsOf<InkPlanesOptions & { readonly window?: Box }>({
  ...RENDER_PARTS,
  window: maybe(anObject),
});

export const pageOptions: Check = partsOf<RasterisePageOptions>({ engine: maybe(aFunction) });

export const aPicture: Check = check(
  (value) => typeof value === "string" || isBytes(value),
  "the path of a picture, or its bytes",
);

export const aModule: Check = (value, where) => bytes(value, where);

const aWhole = check(Number.isSafeInteger, "a whole number", "E_SIZE");

/** A window of the field in whole pixels. */
const aPart = partsOf<Box>({ x: aWhole, y: aWhole, width: aSide, height: aSide });

export const aBand: Check = partsOf<TileBand>({
  y: aCount,
  height: aSide,
  patches: listOf(partsOf<BandPatch>({ part: aCount, from: aCount, to: aCount, width: aSide })),
});

export const aTask: Check = partsOf<BandTask>({ parts: listOf(aPart), bands: listOf(aBand) });

export const aBandPlan: Check = partsOf<BandPlan>({
  width: aSide,
  height: aSide,
  unit: aSide,
  strip: aSide,
  tasks: listOf(aTask),
});

export const aPlaneSource: Check = partsOf<PlaneSource>({
  onGrid: aPrint,
  inks: listOf(aText),
  ground: aText,
  plan: aBandPlan,
});

export const streamOptions: Check = partsOf<StreamPlanesOptions>({
  ...RENDER_PARTS,
  tasks: maybe(listOf(aTask)),
  ahead: maybe(aCount),
});

/** Pixels that their bytes hold, as all that reads them by place needs. */
export const aWholeImage: Check = (value, where) => {
  anImage(value, where);
  const { width, height, stride, channels, data } = value as PixelImage;
  const row = width * channels;
  if (width < 1 || height < 1 || (stride >= row && data.length >= stride * (height - 1) + row)) return;
  throw new RepetendError("E_IMAGE", "the pixels do not fill the picture", {
    where,
    value: `${data.length} bytes, stride ${stride}`,
    accepted: `${width} x ${height} pixels of ${channels} bytes`,
  });
};

/** Pixels with red, green, blue and alpha. */
export const anRgbaImage: Check = (value, where) => {
  aWholeImage(value, where);
  check((channels) => channels === 4, "4", "E_IMAGE")((value as PixelImage).channels, `${where}.channels`);
};

/** Refuses a part that does not lie inside a picture. */
export function checkInside({ width, height }: PixelImage, part: Box): void {
  partsOf<Box>({ x: aCount, y: aCount, width: aSide, height: aSide })(part, "part");
  if (part.x + part.width <= width && part.y + part.height <= height) return;
  throw new RepetendError("E_IMAGE", "a part does not lie inside the picture", {
    value: `${part.width} x ${part.height} px from ${part.x}, ${part.y}`,
    accepted: `inside ${width} x ${height} px`,
  });
}
