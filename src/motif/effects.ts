import { childElements, type SvgElement } from "../svg/index.js";

/** What keeps the paint of elements from being linear in their inks: `filter`, and the names of blend modes. */
export function findEffects(elements: readonly SvgElement[]): readonly string[] {
  const found = new Set<string>();
  const visit = (element: SvgElement): void => {
    if (element.attributes.filter !== undefined) found.add("filter");
    const mode = /mix-blend-mode:([a-z-]+)/.exec(element.attributes.style ?? "")?.[1];
    if (mode !== undefined) found.add(mode);
    for (const child of childElements(element)) visit(child);
  };
  for (const element of elements) visit(element);
  return [...found].sort();
}
