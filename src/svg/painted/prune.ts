import type { SvgElement } from "../tree.js";
import { childElements } from "./elements.js";

const REFERENCES = /url\(#([^)]+)\)/g;

/** The definitions that what is painted needs, directly or by way of others, in their order. */
export function pruneDefs(body: readonly SvgElement[], defs: readonly SvgElement[]): readonly SvgElement[] {
  const byId = new Map(defs.map((element) => [element.attributes.id ?? "", element]));
  const needed = new Set<SvgElement>();
  const visit = (element: SvgElement): void => {
    for (const value of Object.values(element.attributes)) {
      if (!value.includes("url(")) continue;
      for (const [, id = ""] of value.matchAll(REFERENCES)) {
        const found = byId.get(id);
        if (found === undefined || needed.has(found)) continue;
        needed.add(found);
        visit(found);
      }
    }
    for (const child of childElements(element)) visit(child);
  };
  for (const element of body) visit(element);
  return defs.filter((element) => needed.has(element));
}
