export { CLOSE_BELOW, checkContacts } from "./check-contacts.js";
export { composite, compositeBand, inksIn, isBareSomewhere, mixColours } from "./composite.js";
export { findContacts, type InkContact, type InkContacts } from "./contacts.js";
export { coverageOf, type InkCoverage } from "./coverage.js";
export { cutBand } from "./cut-band.js";
export { type ImagePlanesOptions, planesOfImage } from "./image-planes.js";
export { BARE, countMixes, type InkPlanes, type MixTable, type PlaneBand } from "./ink-planes.js";
export type { PixelImage } from "./pixels.js";
export type { Rasterise, RasteriseSize } from "./rasterise.js";
export { codeColours, readCodes } from "./read-codes.js";
export { mapRuns, type RunRows, RunWriter } from "./runs.js";
export { makeScreen, type Screen, type ScreenKind, screenRows } from "./screen.js";
export { overprint, printingOrder, type SeparationPlan, Separator } from "./separate.js";
export { BandWeigher, type InkRender } from "./weigh-band.js";
export {
  indexPlane,
  isPure,
  mainInks,
  placeOfInk,
  spreadBand,
  weighMixes,
  weightPlane,
} from "./weight-plane.js";
