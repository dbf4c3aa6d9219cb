import { aFlag, aFunction, anObject, type Check, check, maybe, oneOf, partsOf } from "../checks.js";
import type { InkPlanesOptions } from "./planes.js";
import type { RasteriseSizing } from "./rasterise.js";

export const rasteriseSizing: Check = partsOf<RasteriseSizing>({ filters: maybe(aFlag) });

export const renderOptions: Check = partsOf<InkPlanesOptions>({
  edges: maybe(oneOf("soft", "hard")),
  engine: maybe(aFunction),
  signal: maybe(anObject),
});

export const aPicture: Check = check(
  (value) => typeof value === "string" || value instanceof Uint8Array,
  "the path of a picture, or its bytes",
);
