import { aFlag, anObject, aText, type Check, check, listOf, maybe, oneOf, partsOf } from "../checks.js";
import { aPrint } from "../repeat/checks.js";
import type { ColourwaysOptions } from "./colourways.js";
import type { LatticeVectorsOptions } from "./lattice-vectors.js";
import type { LayoutsOptions } from "./layouts.js";
import type { MotifsOptions } from "./motifs.js";
import type { PalettesOptions } from "./palettes.js";
import type { PrintsOptions } from "./prints.js";
import type { WindowsOptions } from "./windows.js";

// Numbers are held to their limits where they are read.

const anArbitrary = check(
  (value) => typeof value === "object" && value !== null && "generate" in value,
  "an arbitrary of fast-check",
);

export const printsOptions: Check = partsOf<PrintsOptions>({
  motifs: maybe(anArbitrary),
  layouts: maybe(anArbitrary),
  grounds: maybe(listOf(aText)),
});

export const motifsOptions: Check = partsOf<MotifsOptions>({
  inks: maybe(listOf(aText)),
  strokes: maybe(aFlag),
  holes: maybe(aFlag),
  translucent: maybe(aFlag),
});

export const layoutsOptions: Check = partsOf<LayoutsOptions>({
  kinds: maybe(listOf(oneOf("straight", "half-drop", "brick", "stepped", "satin"))),
});

export const colourwaysOptions: Check = partsOf<ColourwaysOptions>({
  by: maybe(oneOf("trade", "fresh", "either")),
});

/** A print, or its inks. */
export const aSubject: Check = (value, where) =>
  Array.isArray(value) ? listOf(aText)(value, where) : aPrint(value, where);

export const palettesOptions: Check = partsOf<PalettesOptions>({
  count: maybe((value, where) => {
    if (typeof value !== "number") anObject(value, where);
  }),
});

export const vectorsOptions: Check = partsOf<LatticeVectorsOptions>({});

export const windowsOptions: Check = partsOf<WindowsOptions>({});
