import { anObject, type Check, check, listOf, partsOf } from "../checks.js";
import type { SvgsonNode } from "./svgson.js";

export const aDrawing: Check = check(
  (value) => typeof value === "string" || value instanceof Uint8Array,
  "an SVG drawing, as text or as the bytes of a file",
);

/** Only the outermost element is looked at: trees are large, and made by repetend. */
export const anElement: Check = check(
  (value) => typeof value === "object" && value !== null && "type" in value && value.type === "element",
  "an element, from svgElement() or parseTree()",
);

export const someElements: Check = listOf(anElement);

/** A node of another library; its children are looked at when their turn comes. */
export const aNode: Check = partsOf<SvgsonNode>({
  attributes: anObject,
  children: listOf(anObject),
});
