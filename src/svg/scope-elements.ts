import type { SvgElement, SvgNode } from "./tree.js";

/** Puts a prefix before the ids of a style sheet. */
type ScopeSheet = (sheet: string, prefix: string) => string;

/** Drawings that were read have no style sheets any more, so that drawing them needs no reader of CSS. */
const leaveSheet: ScopeSheet = (sheet) => sheet;

/** As `scopeIds`; style sheets only where something is given that does it. */
export function scopeElements(
  elements: readonly SvgElement[],
  prefix: string,
  scopeSheet: ScopeSheet = leaveSheet,
): readonly SvgElement[] {
  return elements.map((element) => scopeElement(element, prefix, scopeSheet));
}

function scopeElement(element: SvgElement, prefix: string, scopeSheet: ScopeSheet): SvgElement {
  const attributes = Object.entries(element.attributes).map(([name, value]) => [
    name,
    scopeValue(name, value, prefix),
  ]);
  const isSheet = element.name === "style" || element.name.endsWith(":style");
  const children = element.children.map((child): SvgNode => {
    if (child.type === "element") return scopeElement(child, prefix, scopeSheet);
    return isSheet ? { ...child, value: scopeSheet(child.value, prefix) } : child;
  });
  return { ...element, attributes: Object.fromEntries(attributes), children };
}

function scopeValue(name: string, value: string, prefix: string): string {
  if (name === "id") return `${prefix}${value}`;
  if (name === "href" || name.endsWith(":href")) return value.replace(/^\s*#/, `#${prefix}`);
  return value.includes("url(") ? scopeUrls(value, prefix) : value;
}

/** Text with a prefix in every `url(#…)`. */
export function scopeUrls(text: string, prefix: string): string {
  return text.replace(/url\(\s*(["']?)\s*#/g, `url($1#${prefix}`);
}
