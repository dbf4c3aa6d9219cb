import type { SvgElement } from "../tree.js";
import { childElements, idIn } from "./elements.js";

const LAYERS = ["opacity", "clip-path", "mask", "filter", "style"] as const;

/** Whether a renderer paints this element as a picture of its own. */
export const isLayer = ({ attributes }: SvgElement): boolean =>
  LAYERS.some((name) => attributes[name] !== undefined);

/** Whether a renderer paints something here as a picture of its own. */
export function hasLayers(element: SvgElement): boolean {
  return isLayer(element) || childElements(element).some(hasLayers);
}

/** Whether masks or patterns hold something that is painted as a picture of its own: it may lie anywhere. */
export function hasHiddenLayers(defs: readonly SvgElement[]): boolean {
  return defs.some(({ name, children }) =>
    children.some(
      (child) =>
        child.type === "element" &&
        (((name === "mask" || name === "pattern") && hasLayers(child)) || hasHiddenLayers([child])),
    ),
  );
}

/** Whether what is done to a group as a whole stays the same when children are left out. */
export function standsByItself(
  { attributes }: SvgElement,
  definitions: ReadonlyMap<string, SvgElement>,
): boolean {
  if (attributes.filter !== undefined) return false;
  const clip = definitions.get(idIn(attributes["clip-path"]) ?? "");
  const mask = definitions.get(idIn(attributes.mask) ?? "");
  return (
    clip?.attributes.clipPathUnits !== "objectBoundingBox" &&
    (mask === undefined ||
      (mask.attributes.maskUnits === "userSpaceOnUse" &&
        mask.attributes.maskContentUnits !== "objectBoundingBox"))
  );
}
