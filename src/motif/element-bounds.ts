import { type Affine, compose, IDENTITY } from "../geometry/affine.js";
import { type Box, boxAround } from "../geometry/box.js";
import { transformPath } from "../geometry/cubic-path.js";
import { pathBounds } from "../geometry/path-bounds.js";
import { pathOfShape } from "../geometry/shape.js";
import { parseTransform } from "../svg/index.js";
import type { SvgElement } from "../svg/tree.js";

/**
 * The box that `objectBoundingBox` means: around the geometry of an element and what it holds, strokes left out, in the
 * element's own user units.
 */
export function elementBounds(element: SvgElement, map: Affine = IDENTITY): Box | undefined {
  if (element.name === "image") {
    const number = (name: string): number => Number(element.attributes[name] ?? 0);
    return { x: number("x"), y: number("y"), width: number("width"), height: number("height") };
  }
  const path = pathOfShape(element.name, element.attributes);
  if (path !== undefined) return pathBounds(transformPath(path, map));
  const boxes = element.children.flatMap((child) => {
    if (child.type !== "element") return [];
    const inner = child.attributes.transform;
    const box = elementBounds(child, inner === undefined ? map : compose(map, parseTransform(inner)));
    return box === undefined ? [] : [box];
  });
  return boxAround(boxes);
}
