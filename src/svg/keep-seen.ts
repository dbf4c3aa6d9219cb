import {
  type Affine,
  type Box,
  boxAround,
  boxHolds,
  boxOverlap,
  compose,
  mapBox,
} from "../geometry/index.js";
import { type Attributes, childElements, definitionsById, handedDown, idIn } from "./painted.js";
import { type Measure, measureOne, turnAround, turnedBox } from "./painted-box.js";
import { parseTransform } from "./transform.js";
import type { SvgElement } from "./tree.js";

/** Where a drawing is rendered: its map to the canvas, and the canvas. */
export interface SeenThrough {
  readonly map: Affine;
  readonly canvas: Box;
}

/** What is painted of a drawing, and the definitions for it. */
export interface SeenParts {
  readonly body: readonly SvgElement[];
  readonly defs: readonly SvgElement[];
}

/**
 * Leaves out of a drawing what lies outside of a canvas. Renderers paint a group with an opacity, a clip, a mask or a
 * filter as a picture of its own; the one we use ends its whole process where such a group lies more than two canvases
 * off. A drawing without such groups comes back as it is, and so does one that lies near the canvas.
 */
export function keepSeen({ body, defs }: SeenParts, { map, canvas }: SeenThrough): SeenParts {
  if (!body.some(hasLayers)) return { body, defs };
  const definitions = definitionsById(defs);
  const keeper = new Keeper(definitions, canvas);
  const kept = keeper.keepAll(body, [{ map, above: {} }]);
  return { body: kept, defs: keepSeenInMasks(defs, kept, map, keeper) };
}

/** Measures what a renderer takes for the size of a group: neither clips nor masks make that smaller. */
function uncut(definitions: ReadonlyMap<string, SvgElement>): Measure {
  const filters = [...definitions].filter(([, { name }]) => name === "filter");
  return { definitions: new Map(filters), outlines: false };
}

/** The box around all that groups hold, cut away or not, where some are painted as pictures of their own. */
export function layersBox({ body, defs }: SeenParts): Box | undefined {
  if (!body.some(hasLayers)) return undefined;
  const measure = uncut(definitionsById(defs));
  const boxes = body.map((element) => turnedBox(element, {}, measure));
  return boxAround(boxes.filter((box) => box !== undefined));
}

/** How an element is come by: a mask is come by in as many ways as it is used. */
interface Way {
  readonly map: Affine;
  readonly above: Attributes;
}

class Keeper {
  readonly #definitions: ReadonlyMap<string, SvgElement>;
  readonly #measure: Measure;
  readonly #uncut: Measure;
  readonly #canvas: Box;

  constructor(definitions: ReadonlyMap<string, SvgElement>, canvas: Box) {
    this.#definitions = definitions;
    this.#measure = { definitions, outlines: false };
    this.#uncut = uncut(definitions);
    this.#canvas = canvas;
  }

  /** The same list where all of it is kept. */
  keepAll(elements: readonly SvgElement[], ways: readonly Way[]): readonly SvgElement[] {
    const kept = elements.flatMap((element) => this.#keep(element, ways));
    return kept.length === elements.length && kept.every((one, k) => one === elements[k]) ? elements : kept;
  }

  #keep(element: SvgElement, ways: readonly Way[]): readonly SvgElement[] {
    // What a mask defines for itself.
    if (element.attributes.id !== undefined) return [element];
    const isSeen = ({ map, above }: Way): boolean => {
      const box = measureOne(element, map, above, this.#measure);
      return box !== undefined && boxOverlap(box, this.#canvas) !== undefined;
    };
    const isAround = ({ map, above }: Way): boolean => {
      const box = turnedBox(element, above, this.#uncut);
      return box === undefined || isNear(mapBox(map, box), this.#canvas);
    };
    if (!ways.some(isSeen)) return [];
    if (element.name !== "g" || ways.every(isAround) || !standsByItself(element, this.#definitions))
      return [element];
    const inside = ways.map(({ map, above }) => ({
      map: mapInside(element, map),
      above: handedDown(element, above),
    }));
    const children = childElements(element);
    const kept = this.keepAll(children, inside);
    return kept === children ? [element] : [{ ...element, children: kept }];
  }
}

function mapInside({ attributes: { transform } }: SvgElement, outer: Affine): Affine {
  return transform === undefined ? outer : compose(outer, parseTransform(transform));
}

/** A mask on more than so many elements stays as it is: each of its shapes is looked at in every way. */
const MOST_WAYS = 64;

/** The same of what masks hold, through the maps of all that they are put on. */
function keepSeenInMasks(
  defs: readonly SvgElement[],
  body: readonly SvgElement[],
  map: Affine,
  keeper: Keeper,
): readonly SvgElement[] {
  const masks = defs.filter(
    ({ name, attributes, children }) =>
      name === "mask" &&
      attributes.maskContentUnits !== "objectBoundingBox" &&
      children.some((child) => child.type === "element" && hasLayers(child)),
  );
  if (masks.length === 0) return defs;
  const users = new Map<string, Way[]>();
  const visit = (element: SvgElement, outer: Affine): void => {
    const inner = mapInside(element, outer);
    const id = idIn(element.attributes.mask);
    if (id !== undefined) users.set(id, [...(users.get(id) ?? []), { map: inner, above: {} }]);
    for (const child of childElements(element)) visit(child, inner);
  };
  for (const element of body) visit(element, map);
  // Where a definition uses a mask, nobody knows where that is painted.
  const hidden = new Set(defs.flatMap(masksIn));
  return defs.map((element) => {
    const { id = "" } = element.attributes;
    const ways = users.get(id);
    if (!masks.includes(element) || ways === undefined || ways.length > MOST_WAYS || hidden.has(id))
      return element;
    const children = childElements(element);
    const kept = keeper.keepAll(children, ways);
    return kept === children ? element : { ...element, children: kept };
  });
}

/** The masks that something inside of an element is put under. */
function masksIn(element: SvgElement): readonly string[] {
  const id = idIn(element.attributes.mask);
  return [...(id === undefined ? [] : [id]), ...childElements(element).flatMap(masksIn)];
}

/**
 * How far a group that is painted as a picture of its own, and holds another such group, leaves a canvas to the left
 * and to the top; 0 for none. The renderer loses what is in it where that is more than the canvas. It ends its process
 * where the group inside lies more than two canvases to the right or below; one that begins beyond the canvas there
 * counts for as much as the canvas and what lies between.
 */
export function nestedOverhang(
  elements: readonly SvgElement[],
  defs: readonly SvgElement[],
  { map, canvas }: SeenThrough,
): { readonly x: number; readonly y: number } {
  const definitions = definitionsById(defs);
  const measure = uncut(definitions);
  // A mask is painted inside of the group that it is put on.
  const isUnderLayers = ({ attributes: { mask } }: SvgElement): boolean => {
    const found = definitions.get(idIn(mask) ?? "");
    return found !== undefined && childElements(found).some(hasLayers);
  };
  let [x, y] = [0, 0];
  const look = (box: Box, holds: boolean, isInside: boolean): void => {
    if (holds) [x, y] = [Math.max(x, canvas.x - box.x), Math.max(y, canvas.y - box.y)];
    if (isInside && box.x > canvas.x + canvas.width) x = Math.max(x, box.x - canvas.x);
    if (isInside && box.y > canvas.y + canvas.height) y = Math.max(y, box.y - canvas.y);
  };
  // Every shape is measured once, from the inside out.
  const visit = (element: SvgElement, outer: Affine, above: Attributes, isInside: boolean): Visited => {
    const layer = isLayer(element);
    const [inner, attributes] = [mapInside(element, outer), handedDown(element, above)];
    const found =
      element.name === "g"
        ? childElements(element).map((child) => visit(child, inner, attributes, isInside || layer))
        : [];
    const boxes = found.map((child) => child.box).filter((box) => box !== undefined);
    const box =
      element.name === "g"
        ? turnAround(element, boxAround(boxes), measure)
        : turnedBox(element, above, measure);
    const holds = found.some((child) => child.layers) || isUnderLayers(element);
    if (box !== undefined && layer) look(mapBox(outer, box), holds, isInside);
    return { box, layers: layer || holds };
  };
  if (elements.some(hasLayers)) for (const element of elements) visit(element, map, {}, false);
  return { x, y };
}

/** The box of what was looked at, in the units that it stands in, and whether something in it is a picture of its own. */
interface Visited {
  readonly box: Box | undefined;
  readonly layers: boolean;
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
  return boxHolds(
    { x: x - width / 3, y: y - height / 3, width: (5 * width) / 3, height: (5 * height) / 3 },
    box,
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
