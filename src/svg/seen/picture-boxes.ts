import {
  type Affine,
  type Box,
  boxAround,
  type CubicPath,
  compose,
  cubicsOf,
  growBox,
  IDENTITY,
  mapBox,
  pathBounds,
  pathOfShape,
  scaling,
  translation,
} from "../../geometry/index.js";
import { filtered, filterOf, isPainted, regionOf, strokeAround } from "../painted/box.js";
import { type Attributes, childElements, handedDown } from "../painted/elements.js";
import { isLayer } from "../painted/layers.js";
import type { SvgElement } from "../tree.js";
import { parseTransform } from "../values/transform.js";

/**
 * What is known of the box that a renderer puts around an element, whose picture is as large as that. Neither clips nor
 * masks make it smaller; the upright box of what is inside is turned with a group, and an upright box put around again.
 */
export interface Boxes {
  /** Holds what is painted. */
  readonly painted: Box;
  /** The renderer's box is not larger: around curves it goes by their control points. */
  readonly most: Box;
  /** The renderer's box is not smaller. */
  readonly least: Box;
  /** What masks and patterns call the element's bounding box: without strokes. */
  readonly outline: Box;
}

/** An element, measured for a renderer. */
export interface PictureBoxes {
  readonly element: SvgElement;
  /** Those that count inside of it. */
  readonly attributes: Attributes;
  readonly transform: Affine | undefined;
  /** In the units inside of the element; `undefined` where nothing is painted. */
  readonly boxes: Boxes | undefined;
  /** In the units that it stands in. */
  readonly turned: Boxes | undefined;
  /** Of a group: in the order of its elements. */
  readonly inside: readonly PictureBoxes[];
  /** Whether something in it is painted as a picture of its own, or it is one. */
  readonly isLayered: boolean;
}

/** Measures an element and all that is inside; every shape once. */
export function measurePictures(
  element: SvgElement,
  above: Attributes,
  definitions: ReadonlyMap<string, SvgElement>,
): PictureBoxes {
  const attributes = handedDown(element, above);
  const inside =
    element.name === "g"
      ? childElements(element).map((child) => measurePictures(child, attributes, definitions))
      : [];
  const bare =
    element.name === "g"
      ? around(inside.map(({ turned }) => turned).filter((boxes) => boxes !== undefined))
      : measureShape(element, attributes);
  const boxes = bare && filteredBoxes(bare, filterOf(element, definitions));
  const { transform: text } = element.attributes;
  const transform = text === undefined ? undefined : parseTransform(text);
  const turned = boxes && transform ? eachBox((part) => mapBox(transform, boxes[part])) : boxes;
  const isLayered = isLayer(element) || inside.some((one) => one.isLayered);
  return { element, attributes, transform, boxes, turned, inside, isLayered };
}

const eachBox = (boxOf: (part: keyof Boxes) => Box): Boxes => ({
  painted: boxOf("painted"),
  most: boxOf("most"),
  least: boxOf("least"),
  outline: boxOf("outline"),
});

function around(all: readonly Boxes[]): Boxes | undefined {
  const [first] = all;
  if (first === undefined) return undefined;
  return eachBox((part) => boxAround(all.map((boxes) => boxes[part])) ?? first[part]);
}

function measureShape(element: SvgElement, attributes: Attributes): Boxes | undefined {
  if (element.name === "image") {
    const at = (name: string) => Number(element.attributes[name] ?? 0);
    const box = { x: at("x"), y: at("y"), width: at("width"), height: at("height") };
    return eachBox(() => box);
  }
  const path = pathOfShape(element.name, element.attributes);
  const least = path && pathBounds(path);
  if (path === undefined || least === undefined || !isPainted(attributes)) return undefined;
  const reach = strokeAround(path, attributes);
  const outline = hullBox(path, least);
  return { painted: growBox(least, reach), most: growBox(outline, reach), least, outline };
}

/** Two control points that a quadratic curve was raised from agree to this share of their distance. */
const RAISED = 1e-6;

/** The box around a path and its control points, those of quadratic curves as they were before they were raised. */
function hullBox(path: CubicPath, { x, y, width, height }: Box): Box {
  let [left, top, right, bottom] = [x, y, x + width, y + height];
  const hold = (px: number, py: number): void => {
    [left, top] = [Math.min(left, px), Math.min(top, py)];
    [right, bottom] = [Math.max(right, px), Math.max(bottom, py)];
  };
  for (const [x0, y0, x1, y1, x2, y2, x3, y3] of path.subpaths.flatMap(cubicsOf)) {
    const [ax, ay] = [x0 + 1.5 * (x1 - x0), y0 + 1.5 * (y1 - y0)];
    const [bx, by] = [x3 + 1.5 * (x2 - x3), y3 + 1.5 * (y2 - y3)];
    const far = Math.abs(ax - x0) + Math.abs(ay - y0) + Math.abs(bx - x3) + Math.abs(by - y3);
    if (Math.abs(ax - bx) + Math.abs(ay - by) <= RAISED * far) hold(ax, ay);
    else {
      hold(x1, y1);
      hold(x2, y2);
    }
  }
  return { x: left, y: top, width: right - left, height: bottom - top };
}

/** The renderer's box of a filtered element is the filter's region. */
function filteredBoxes(boxes: Boxes, filter: SvgElement | undefined): Boxes {
  if (filter === undefined) return boxes;
  const { outline } = boxes;
  const region = regionOf(filter);
  const inUse = filter.attributes.filterUnits === "userSpaceOnUse";
  const box = inUse ? region : mapBox(overBox(outline), region);
  return { painted: filtered(boxes.painted, filter, IDENTITY), most: box, least: box, outline };
}

/** From shares of a box to the units of the box. */
export const overBox = ({ x, y, width, height }: Box): Affine =>
  compose(translation(x, y), scaling(width, height));
