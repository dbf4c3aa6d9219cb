import { aText, type Check, listOf, maybe, oneOf, partsOf, tableOf } from "../checks.js";
import type { DeriveOptions } from "./derive-inks.js";
import type { Colourway } from "./types.js";

export const someInks: Check = listOf(aText);

export const aColourway: Check = partsOf<Colourway>({ name: aText, inks: tableOf(aText) });

export const aVision: Check = oneOf("protan", "deutan", "tritan");

/** What derived colourways are made with; numbers are held against their ranges where they are used. */
export const DERIVE_PARTS: { readonly [Key in keyof DeriveOptions]?: Check } = {
  keep: maybe(someInks),
  anchors: maybe(tableOf(aText)),
};
