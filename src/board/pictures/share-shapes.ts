import { element, type SvgElement, type SvgNode } from "../../svg/index.js";

/** Shorter data are not worth a reference. */
const LEAST = 48;

/** What belongs to a path alone, and would not reach it through a reference. */
const OWN = ["pathLength", "vector-effect"] as const;

const isShape = (one: SvgElement): boolean =>
  one.name === "path" &&
  one.children.length === 0 &&
  (one.attributes.d ?? "").length >= LEAST &&
  OWN.every((name) => one.attributes[name] === undefined);

/** Goes through what may be drawn by reference: clips hold few shapes, and not every reader follows references in them. */
function visit(one: SvgElement, see: (shape: SvgElement) => void): void {
  if (one.name === "clipPath") return;
  if (isShape(one)) see(one);
  for (const child of one.children) if (child.type === "element") visit(child, see);
}

/**
 * The same drawing with every outline that stands in it more than once written once and drawn by reference: pictures
 * in several colourways differ in their paints only, and outlines are nearly all of what is written.
 *
 * @param prefix of the ids of the outlines, which no other id of the drawing begins with.
 */
export function shareShapes(
  { defs, body }: { readonly defs: readonly SvgElement[]; readonly body: readonly SvgElement[] },
  prefix: string,
): { readonly defs: readonly SvgElement[]; readonly body: readonly SvgElement[] } {
  const counts = new Map<string, number>();
  for (const one of [...defs, ...body])
    visit(one, ({ attributes: { d = "" } }) => counts.set(d, (counts.get(d) ?? 0) + 1));
  const ids = new Map<string, string>();
  for (const [d, count] of counts) if (count > 1) ids.set(d, `${prefix}${ids.size + 1}`);
  const share = (one: SvgElement): SvgElement => {
    if (one.name === "clipPath") return one;
    const { d = "", ...rest } = one.attributes;
    const id = isShape(one) ? ids.get(d) : undefined;
    if (id !== undefined) return element("use", { href: `#${id}`, ...rest });
    const children = one.children.map((child): SvgNode => (child.type === "element" ? share(child) : child));
    return { ...one, children };
  };
  const shapes = [...ids].map(([d, id]) => element("path", { id, d }));
  return { defs: [...shapes, ...defs.map(share)], body: body.map(share) };
}
