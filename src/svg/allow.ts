import {
  ANIMATIONS,
  DEFINITIONS,
  DESCRIPTIONS,
  FOREIGN,
  GRAPHICS,
  SCRIPTS,
  TEXTS,
  UNDRAWN,
} from "./elements.js";
import type { Losses } from "./notes.js";
import { externalReference, readHref, readUrls } from "./references.js";
import type { Source } from "./xml/parse.js";
import { placeOf, type SourceElement, SVG_NAMESPACE, XHTML_NAMESPACE } from "./xml/source.js";

/**
 * Looks at every element by its namespace: references that leave the drawing are refused, painted or not, and what is
 * going to be dropped is noted. Other namespaces (editors' notes, metadata) are left out without a word.
 */
export function checkElements(source: Source, losses: Losses): void {
  const waiting: SourceElement[] = [source.root];
  for (let element = waiting.pop(); element !== undefined; element = waiting.pop()) {
    if (!checkElement(element, losses)) continue;
    for (let index = element.children.length - 1; index >= 0; index--) {
      const child = element.children[index];
      if (child?.kind === "element") waiting.push(child);
    }
  }
}

/** Whether what is inside counts too. */
function checkElement(element: SourceElement, losses: Losses): boolean {
  if (element.local === "script" && element.namespace === XHTML_NAMESPACE) losses.add("N_SCRIPT", element);
  else if (element.namespace === XHTML_NAMESPACE) losses.add("N_FOREIGN", element);
  if (element.namespace !== SVG_NAMESPACE) return false;
  const name = element.svgName;
  if (SCRIPTS.has(name)) losses.add("N_SCRIPT", element);
  else if (FOREIGN.has(name)) losses.add("N_FOREIGN", element);
  else if (ANIMATIONS.has(name)) losses.add("N_ANIMATION", element);
  if (SCRIPTS.has(name) || FOREIGN.has(name) || ANIMATIONS.has(name)) return false;
  if (!isKnown(name)) {
    losses.add("N_UNKNOWN", element);
    return false;
  }
  checkAttributes(element, losses);
  return true;
}

function isKnown(name: string): boolean {
  return (
    GRAPHICS.has(name) ||
    DEFINITIONS.has(name) ||
    DESCRIPTIONS.has(name) ||
    TEXTS.has(name) ||
    UNDRAWN.has(name) ||
    /^fe[A-Z]/.test(name)
  );
}

function checkAttributes(element: SourceElement, losses: Losses): void {
  const where = placeOf(element);
  for (const [name, value] of element.attributes) {
    if (/^on/i.test(name)) losses.add("N_EVENT", element);
    else if (name === "href") checkHref(element, value, losses);
    // Style sheets and style= have their own reading, comments and all.
    else if (name !== "style" && /url\(/i.test(value)) readUrls(value, where);
  }
  for (const [name, value] of element.written) {
    // A base turns "#id" into a reference to another file.
    if (name === "xml:base" && value.trim() !== "") throw externalReference(value, where);
  }
}

function checkHref(element: SourceElement, value: string, losses: Losses): void {
  if (element.svgName === "a") losses.add("N_LINK", element);
  else if (element.svgName !== "image" || !/^\s*data:/i.test(value)) readHref(value, placeOf(element));
}
