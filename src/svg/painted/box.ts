import {
  type Affine,
  type Box,
  boxAround,
  boxOverlap,
  type CubicPath,
  compose,
  IDENTITY,
  mapBox,
  pathBounds,
  pathOfShape,
  transformPath,
} from "../../geometry/index.js";
import { someElements } from "../checks.js";
import type { SvgElement } from "../tree.js";
import { parseTransform } from "../values/transform.js";
import { type Attributes, childElements, definitionsById, handedDown, idIn } from "./elements.js";
import { strokeReach } from "./stroke-reach.js";

/** What is known while a drawing is measured. */
export interface Measure {
  readonly definitions: ReadonlyMap<string, SvgElement>;
  /** Measure outlines only, as for a clip. */
  readonly outlines: boolean;
}

/**
 * A box that holds everything that elements paint, in the units they stand in: tight around fills, never too small for
 * strokes, cut where a clip or a mask cuts, grown to a filter's region. `undefined` when nothing is painted.
 */
export function paintedBox(body: readonly SvgElement[], defs: readonly SvgElement[]): Box | undefined {
  someElements(body, "body");
  someElements(defs, "defs");
  return measureAll(body, IDENTITY, {}, { definitions: definitionsById(defs), outlines: false });
}

function measureAll(
  elements: readonly SvgElement[],
  map: Affine,
  above: Attributes,
  measure: Measure,
): Box | undefined {
  return aroundAll(elements.map((element) => measureTree(element, map, above, measure)));
}

/** Around all of several. */
export function aroundAll(painted: readonly Painted[]): Box | undefined {
  return boxAround(painted.map(({ box }) => box).filter((box) => box !== undefined));
}

/** What an element paints, and what each of those inside it does. */
export interface Painted {
  /** `undefined` where nothing is painted. */
  readonly box: Box | undefined;
  /** Of a group: in the order of its elements. */
  readonly inside: readonly Painted[];
}

/** The box of one element and of all that is inside, `outer` mapping what it stands in; every shape is measured once. */
export function measureTree(
  element: SvgElement,
  outer: Affine,
  above: Attributes,
  measure: Measure,
): Painted {
  const { transform } = element.attributes;
  const map = transform === undefined ? outer : compose(outer, parseTransform(transform));
  const attributes = handedDown(element, above);
  const inside =
    element.name === "g"
      ? childElements(element).map((child) => measureTree(child, map, attributes, measure))
      : [];
  const painted = element.name === "g" ? aroundAll(inside) : measureLeaf(element, map, attributes, measure);
  const box =
    painted === undefined
      ? undefined
      : cut(filtered(painted, filterOf(element, measure.definitions), map), element, map, measure);
  return { box, inside };
}

function measureLeaf(
  element: SvgElement,
  map: Affine,
  attributes: Attributes,
  measure: Measure,
): Box | undefined {
  if (element.name === "image") {
    const at = (name: string) => Number(element.attributes[name] ?? 0);
    return mapBox(map, { x: at("x"), y: at("y"), width: at("width"), height: at("height") });
  }
  const path = pathOfShape(element.name, element.attributes);
  if (path === undefined) return undefined;
  const box = pathBounds(transformPath(path, map));
  if (box === undefined || measure.outlines) return box;
  if (!isPainted(attributes)) return undefined;
  const reach = strokeAround(path, attributes);
  if (reach === 0) return box;
  // A circle of this radius, mapped, is an ellipse that reaches so far along each axis.
  const across = reach * Math.hypot(map.a, map.c);
  const down = reach * Math.hypot(map.b, map.d);
  return { x: box.x - across, y: box.y - down, width: box.width + 2 * across, height: box.height + 2 * down };
}

const isStroked = (attributes: Attributes): boolean => (attributes.stroke ?? "none") !== "none";

/** Whether a shape is filled or stroked. */
export const isPainted = (attributes: Attributes): boolean =>
  isStroked(attributes) || (attributes.fill ?? "#000000") !== "none";

/** How far a shape's stroke reaches from its path at most; 0 without one. */
export function strokeAround(path: CubicPath, attributes: Attributes): number {
  if (!isStroked(attributes)) return 0;
  return strokeReach(path, {
    width: Number(attributes["stroke-width"] ?? 1),
    cap: attributes["stroke-linecap"] ?? "butt",
    join: attributes["stroke-linejoin"] ?? "miter",
    miterLimit: Number(attributes["stroke-miterlimit"] ?? 4),
  });
}

/** The painted box after a clip and a mask, where their own box is known without what is painted. */
function cut(painted: Box, element: SvgElement, map: Affine, measure: Measure): Box | undefined {
  let box: Box | undefined = painted;
  const clip = measure.definitions.get(idIn(element.attributes["clip-path"]) ?? "");
  if (clip !== undefined && clip.attributes.clipPathUnits !== "objectBoundingBox") {
    const inside = measureClip(clip, map, measure);
    box = inside === undefined ? undefined : boxOverlap(box, inside);
  }
  const mask = measure.definitions.get(idIn(element.attributes.mask) ?? "");
  if (box !== undefined && mask?.attributes.maskUnits === "userSpaceOnUse") {
    box = boxOverlap(box, mapBox(map, regionOf(mask)));
  }
  return box;
}

function measureClip(clip: SvgElement, map: Affine, measure: Measure): Box | undefined {
  const { transform } = clip.attributes;
  const inner = transform === undefined ? map : compose(map, parseTransform(transform));
  const box = measureAll(childElements(clip), inner, {}, { ...measure, outlines: true });
  return box === undefined ? undefined : cut(box, clip, map, measure);
}

/** Where a mask or a filter says that it lies; in shares of a bounding box, or in units. */
export function regionOf(element: SvgElement): Box {
  const at = (name: string) => Number(element.attributes[name] ?? 0);
  return { x: at("x"), y: at("y"), width: at("width"), height: at("height") };
}

/** The filter that is put on an element. */
export const filterOf = (
  { attributes }: SvgElement,
  definitions: ReadonlyMap<string, SvgElement>,
): SvgElement | undefined => definitions.get(idIn(attributes.filter) ?? "");

/** A filter paints anywhere in its region: by default a tenth more than the box on every side. */
export function filtered(painted: Box, filter: SvgElement | undefined, map: Affine): Box {
  if (filter === undefined) return painted;
  if (filter.attributes.filterUnits === "userSpaceOnUse") return mapBox(map, regionOf(filter));
  const { x, y, width, height } = regionOf(filter);
  // The region is a share of the outlines' box, which the painted box holds: more than enough on every side.
  const left = Math.max(0, -x) * painted.width;
  const top = Math.max(0, -y) * painted.height;
  const right = Math.max(0, x + width - 1) * painted.width;
  const bottom = Math.max(0, y + height - 1) * painted.height;
  return {
    x: painted.x - left,
    y: painted.y - top,
    width: painted.width + left + right,
    height: painted.height + top + bottom,
  };
}
