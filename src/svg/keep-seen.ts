import { type Affine, type Box, boxOverlap, compose, IDENTITY } from "../geometry/index.js";
import { type Attributes, childElements, definitionsById, handedDown, idIn } from "./painted.js";
import { type Measure, measureOne } from "./painted-box.js";
import { parseTransform } from "./transform.js";
import type { SvgElement } from "./tree.js";

/** Where a drawing is rendered: its map to the canvas, and the canvas. */
export interface SeenThrough {
  readonly map: Affine;
  readonly canvas: Box;
}

/**
 * Leaves out of elements what lies outside of a canvas. Renderers paint a group with an opacity, a clip, a mask or a
 * filter as a picture of its own; the one we use ends its whole process where such a group lies more than two canvases
 * off. Elements without such groups come back as they are, and so do those that lie near the canvas.
 */
export function keepSeen(
  elements: readonly SvgElement[],
  defs: readonly SvgElement[],
  { map, canvas }: SeenThrough,
): readonly SvgElement[] {
  if (!elements.some(hasLayers)) return elements;
  const definitions = definitionsById(defs);
  const measure: Measure = { definitions, outlines: false };
  const keepAll = (some: readonly SvgElement[], outer: Affine, above: Attributes): readonly SvgElement[] => {
    const kept = some.flatMap((element) => keep(element, outer, above));
    return kept.length === some.length && kept.every((one, index) => one === some[index]) ? some : kept;
  };
  const keep = (element: SvgElement, outer: Affine, above: Attributes): readonly SvgElement[] => {
    const box = measureOne(element, outer, above, measure);
    if (box === undefined || boxOverlap(box, canvas) === undefined) return [];
    if (element.name !== "g" || isNear(box, canvas) || !standsByItself(element, definitions))
      return [element];
    const { transform } = element.attributes;
    const inner = transform === undefined ? outer : compose(outer, parseTransform(transform));
    const children = keepAll(childElements(element), inner, handedDown(element, above));
    return children.length === element.children.length &&
      children.every((one, k) => one === element.children[k])
      ? [element]
      : [{ ...element, children }];
  };
  return keepAll(elements, map, {});
}

/** As {@link keepSeen}, of a drawing that is rendered as it stands. */
export function keepInFrame(
  elements: readonly SvgElement[],
  defs: readonly SvgElement[],
  canvas: Box,
): readonly SvgElement[] {
  return keepSeen(elements, defs, { map: IDENTITY, canvas });
}

/**
 * How far a group that is painted as a picture of its own, and holds another such group, leaves a canvas to the left
 * and to the top; 0 for none. The renderer loses what is in it where that is more than the canvas.
 */
export function nestedOverhang(
  elements: readonly SvgElement[],
  defs: readonly SvgElement[],
  { map, canvas }: SeenThrough,
): { readonly x: number; readonly y: number } {
  const measure: Measure = { definitions: definitionsById(defs), outlines: false };
  let [x, y] = [0, 0];
  const visit = (element: SvgElement, outer: Affine, above: Attributes): void => {
    const children = childElements(element);
    if (!children.some(hasLayers)) return;
    const box = isLayer(element) ? measureOne(element, outer, above, measure) : undefined;
    if (box !== undefined) [x, y] = [Math.max(x, canvas.x - box.x), Math.max(y, canvas.y - box.y)];
    const { transform } = element.attributes;
    const inner = transform === undefined ? outer : compose(outer, parseTransform(transform));
    for (const child of children) visit(child, inner, handedDown(element, above));
  };
  for (const element of elements) visit(element, map, {});
  return { x, y };
}

const LAYERS = ["opacity", "clip-path", "mask", "filter", "style"] as const;

/** Whether a renderer paints something here as a picture of its own. */
export function hasLayers(element: SvgElement): boolean {
  return isLayer(element) || childElements(element).some(hasLayers);
}

const isLayer = ({ attributes }: SvgElement): boolean =>
  LAYERS.some((name) => attributes[name] !== undefined);

/**
 * Whether a box leaves a canvas by no more than a third of it on any side. The renderer bears two canvases, but places
 * a group inside of another from that one's edge.
 */
export function isNear(box: Box, { x, y, width, height }: Box): boolean {
  const [left, top] = [x - width / 3, y - height / 3];
  return (
    box.x >= left &&
    box.y >= top &&
    box.x + box.width <= left + (5 * width) / 3 &&
    box.y + box.height <= top + (5 * height) / 3
  );
}

/** Whether what is done to a group as a whole stays the same when children are left out. */
function standsByItself({ attributes }: SvgElement, definitions: ReadonlyMap<string, SvgElement>): boolean {
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
