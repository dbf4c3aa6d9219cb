import { GRAPHICS } from "../elements.js";
import { elementsIn, type SourceElement } from "../xml/source.js";

/** Whether an element's conditions hold: no extensions, and English, so that the answer is the same everywhere. */
export function isChosen(element: SourceElement): boolean {
  if ((element.attributes.get("requiredExtensions") ?? "").trim() !== "") return false;
  const languages = element.attributes.get("systemLanguage");
  return languages === undefined || languages.split(",").some((one) => /^en(?:-|$)/i.test(one.trim()));
}

/** The children that an element shows: all, of a `switch` the first whose conditions hold. */
export function shownChildren(element: SourceElement): readonly SourceElement[] {
  const children = elementsIn(element);
  if (element.svgName !== "switch") return children;
  return children.filter((child) => GRAPHICS.has(child.svgName) && isChosen(child)).slice(0, 1);
}
