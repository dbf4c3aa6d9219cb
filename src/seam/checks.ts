import {
  aFlag,
  aFunction,
  aNumber,
  anObject,
  aText,
  type Check,
  check,
  made,
  maybe,
  partsOf,
} from "../checks.js";
import type { Tile } from "../repeat/index.js";
import type { CheckDrawingOptions } from "./check-seams.js";

export const aSeamReport: Check = made("a report, from checkSeams()", "seam-report");

/** Which layout it is, is told where its seams are. */
export const aLayout: Check = check(
  (value) => typeof value === "string" || (typeof value === "object" && value !== null),
  "the name of a layout, or an object with its kind",
);

export const seamOptions: Check = partsOf<CheckDrawingOptions>({
  layout: maybe(aLayout),
  repeat: maybe(anObject),
  rasterise: maybe(aFunction),
});

export const aTile: Check = partsOf<Tile>({
  width: aNumber,
  height: aNumber,
  svg: aText,
  repeats: partsOf<Tile["repeats"]>({ x: aFlag, y: aFlag }),
  offset: partsOf<Tile["offset"]>({ x: aNumber, y: aNumber }),
});
