import { INHERITED } from "./painted/inherited.js";
import { element, type SvgElement } from "./tree.js";

/**
 * A group around what is painted, in the fewest characters: an empty one is left out, one that says nothing is opened,
 * and what all children say alike is said once. Empty attributes are dropped.
 */
export function group(
  children: readonly SvgElement[],
  attributes: Readonly<Record<string, string>> = {},
): readonly SvgElement[] {
  if (children.length === 0) return [];
  const said = Object.fromEntries(Object.entries(attributes).filter(([, value]) => value !== ""));
  const [only] = children;
  if (children.length === 1 && only !== undefined) {
    const names = Object.keys(said);
    if (names.length === 0) return children;
    // A map alone moves onto an only child that has none.
    if (names.length === 1 && said.transform !== undefined && only.attributes.transform === undefined) {
      return [{ ...only, attributes: { ...said, ...only.attributes } }];
    }
  }
  const shared = sharedBy(children);
  const own = { ...shared, ...said };
  if (Object.keys(own).length === 0) return children;
  const names = Object.keys(shared);
  return [element("g", own, names.length === 0 ? children : children.map((child) => without(child, names)))];
}

function sharedBy(children: readonly SvgElement[]): Readonly<Record<string, string>> {
  if (children.length < 2) return {};
  const shared: Record<string, string> = {};
  for (const name of INHERITED) {
    const saying = children.filter((child) => !isDeafTo(child, name));
    const value = saying[0]?.attributes[name];
    if (value !== undefined && saying.length > 1 && saying.every((child) => child.attributes[name] === value))
      shared[name] = value;
  }
  return shared;
}

/** A line has no area to fill, a picture no paint at all. */
function isDeafTo(child: SvgElement, name: string): boolean {
  return child.name === "image" || (child.name === "line" && name.startsWith("fill"));
}

function without(child: SvgElement, names: readonly string[]): SvgElement {
  if (!names.some((name) => child.attributes[name] !== undefined)) return child;
  const kept = Object.entries(child.attributes).filter(([name]) => !names.includes(name));
  return { ...child, attributes: Object.fromEntries(kept) };
}
