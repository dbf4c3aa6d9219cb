import { aFlag, aNumber, type Check, check, listOf, maybe, oneOf, partsOf } from "../../checks.js";
import { aMotif } from "../../motif/checks.js";
import { someMotifs } from "../checks.js";
import type { Band } from "../types.js";
import type { TossBand, TossCell, TossMotif, TossOptions } from "./options.js";

const aLayout = check(
  (value) =>
    value === "straight" ||
    value === "half-drop" ||
    value === "brick" ||
    (typeof value === "object" && value !== null && ("step" in value || "ends" in value)),
  '"straight", "half-drop", "brick", { along, step } or { ends, move }',
);

const aTossedMotif = partsOf<TossMotif>({
  motif: aMotif,
  share: maybe(aNumber),
  filler: maybe(aFlag),
  flip: maybe(aFlag),
});

const aBandOfABorder = partsOf<Band>({
  period: aNumber,
  count: aNumber,
  from: aNumber,
  to: aNumber,
  clip: aFlag,
  motifs: someMotifs,
});

export const tossOptions: Check = partsOf<TossOptions>({
  space: partsOf<TossCell & TossBand>({
    layout: maybe(aLayout),
    across: maybe(oneOf("inside", "free")),
    beside: maybe(listOf(aBandOfABorder)),
  }),
  motifs: listOf(aTossedMotif),
  seed: maybe(aNumber),
  around: maybe(someMotifs),
  count: maybe(aNumber),
});
