export {
  type AllOverOptions,
  brick,
  halfDrop,
  type SatinOptions,
  type SteppedOptions,
  satin,
  stepped,
  straight,
} from "./build/all-over.js";
export { type BandOptions, type BorderOptions, border } from "./build/border.js";
export { fitPeriod, type PeriodFit } from "./build/fit.js";
export { type PlaceOptions, place } from "./build/place.js";
export { cellOf, type PrintSize, resizePrint } from "./build/scale.js";
export { readStep, type StepLike } from "./build/step.js";
export { describeLayout, describeRepeat } from "./draw/describe.js";
export { type DocumentOptions, writeDocument } from "./draw/document.js";
export { type DrawnLayers, type DrawOptions, drawLayers } from "./draw/draw.js";
export { type FieldOptions, field, readWindow, type Window } from "./draw/field.js";
export { type FieldPixelsOptions, pixelPrint, writePixels } from "./draw/field-pixels.js";
export { latticeOf } from "./draw/lattice-of.js";
export {
  type GroundLayer,
  type Layer,
  layersInWindow,
  type MotifCopy,
  type MotifLayer,
  rectangleOf,
} from "./draw/layers.js";
export { type PatternOptions, patternPaint } from "./draw/pattern.js";
export {
  enlargementOf,
  type PixelGrid,
  type PixelGridOptions,
  pixelGrid,
  type Shrinkage,
} from "./draw/pixel-grid.js";
export { overhangOf } from "./draw/seen-motif.js";
export { type TileOptions, tile, tileExtent } from "./draw/tile.js";
export { type CheckColourwayOptions, checkColourway } from "./inks/check-colourway.js";
export { type ColourCardOptions, colourCard } from "./inks/colour-card.js";
export {
  type DeriveColourwayOptions,
  type DerivedColourway,
  deriveColourway,
  seeColourway,
} from "./inks/derive-colourway.js";
export { inksOf } from "./inks/inks.js";
export { type LimitedInks, type LimitInksOptions, limitInks } from "./inks/limit-inks.js";
export { recolour } from "./inks/recolour.js";
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
export {
  drawWords,
  findUndrawn,
  measureWords,
  shortenWords,
  type WordsOptions,
  wrapWords,
} from "./words/words.js";
