import { anObject, type Check, check, isBytes, listOf, partsOf } from "../checks.js";
import type { SvgsonNode } from "./svgson.js";

export const aDrawing: Check = check(
  (value) => typeof value === "string" || isBytes(value),
  "an SVG drawing: text, or the bytes of a file in a Uint8Array",
);

/** Only the outermost element is looked at: trees are large, and made by repetend. */
export const anElement: Check = check(
  (value) => typeof value === "object" && value !== null && "type" in value && value.type === "element",
  "an element, from svgElement() or parseTree()",
);

export const someElements: Check = listOf(anElement);

const ID_PART = /^[\p{L}\p{M}\p{N}_.:-]*$/u;
const ID_WORDS = "letters, digits, and any of _ . : -";

/** What goes before ids: an id with white space, a bracket or a quotation mark is found by no `url(#…)`. */
export const aScope: Check = check((value) => typeof value === "string" && ID_PART.test(value), ID_WORDS);

export const anId: Check = check(
  (value) => typeof value === "string" && value !== "" && ID_PART.test(value),
  `${ID_WORDS}, at least one`,
);

/** A node of another library; its children are looked at when their turn comes. */
export const aNode: Check = partsOf<SvgsonNode>({
  attributes: anObject,
  children: listOf(anObject),
});
