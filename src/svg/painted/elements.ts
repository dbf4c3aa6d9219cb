import type { SvgElement } from "../tree.js";
import { INHERITED } from "./inherited.js";

/** The attributes that count on an element: those handed down to it, under its own. */
export type Attributes = Readonly<Record<string, string>>;

/** What an element's children take over. */
export function handedDown(element: SvgElement, above: Attributes): Attributes {
  const own = Object.entries(element.attributes).filter(([name]) => INHERITED.includes(name));
  return own.length === 0 ? above : { ...above, ...Object.fromEntries(own) };
}

/** The elements among the children of an element. */
export function childElements(element: SvgElement): readonly SvgElement[] {
  return element.children.filter((child) => child.type === "element");
}

/** The id that an attribute refers to. */
export function idIn(value: string | undefined): string | undefined {
  return value === undefined ? undefined : /^url\(#(.+)\)$/.exec(value)?.[1];
}

/** Definitions by id, those inside of masks and patterns too. */
export function definitionsById(defs: readonly SvgElement[]): ReadonlyMap<string, SvgElement> {
  const found = new Map<string, SvgElement>();
  const collect = (element: SvgElement): void => {
    const { id } = element.attributes;
    if (id !== undefined) found.set(id, element);
    for (const child of childElements(element)) collect(child);
  };
  for (const element of defs) collect(element);
  return found;
}
