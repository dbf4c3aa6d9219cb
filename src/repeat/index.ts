export {
  type AllOverOptions,
  brick,
  halfDrop,
  type SatinOptions,
  type SteppedOptions,
  satin,
  stepped,
  straight,
} from "./all-over.js";
export { type BandOptions, type BorderOptions, border } from "./border.js";
export { type CheckColourwayOptions, checkColourway } from "./check-colourway.js";
export { type ColourCardOptions, colourCard } from "./colour-card.js";
export {
  type DeriveColourwayOptions,
  type DerivedColourway,
  deriveColourway,
  seeColourway,
} from "./derive-colourway.js";
export { describeLayout, describeRepeat } from "./describe.js";
export { type DocumentOptions, writeDocument } from "./document.js";
export { type DrawnLayers, type DrawOptions, drawLayers } from "./draw.js";
export { type FieldOptions, field, readWindow, type Window } from "./field.js";
export { type FieldPixelsOptions, pixelPrint, writePixels } from "./field-pixels.js";
export { fitPeriod, type PeriodFit } from "./fit.js";
export { inksOf } from "./inks.js";
export { latticeOf } from "./lattice-of.js";
export {
  type GroundLayer,
  type Layer,
  layersInWindow,
  type MotifCopy,
  type MotifLayer,
  rectangleOf,
} from "./layers.js";
export { type LimitedInks, type LimitInksOptions, limitInks } from "./limit-inks.js";
export { type PatternOptions, patternPaint } from "./pattern.js";
export {
  enlargementOf,
  type PixelGrid,
  type PixelGridOptions,
  pixelGrid,
  type Shrinkage,
} from "./pixel-grid.js";
export { type PlaceOptions, place } from "./place.js";
export { recolour } from "./recolour.js";
export { cellOf, type PrintSize, resizePrint } from "./scale.js";
export { overhangOf } from "./seen-motif.js";
export { readStep, type StepLike } from "./step.js";
export { type TileOptions, tile, tileExtent } from "./tile.js";
export {
  describeToss,
  type TossBand,
  type TossCell,
  type Tossed,
  type TossedMotif,
  type TossFacts,
  type TossLayout,
  type TossMotif,
  type TossOptions,
  type TossTurn,
  toss,
} from "./toss/index.js";
export type { AllOver, Band, Border, Grain, Layout, Placement, Print, Tile } from "./types.js";
export { drawWords, measureWords, shortenWords, type WordsOptions, wrapWords } from "./words.js";
