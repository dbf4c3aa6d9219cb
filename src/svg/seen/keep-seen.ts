import {
  type Affine,
  type Box,
  boxAround,
  boxHolds,
  boxOverlap,
  compose,
  mapBox,
} from "../../geometry/index.js";
import { type Measure, measureTree, type Painted } from "../painted/box.js";
import { childElements, definitionsById, idIn } from "../painted/elements.js";
import { hasLayers, standsByItself } from "../painted/layers.js";
import { element, type SvgElement } from "../tree.js";
import { parseTransform } from "../values/transform.js";
import { measurePictures, type PictureBoxes } from "./picture-boxes.js";

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
  const kept = keeper.keepSeen(body, [map]);
  return { body: kept, defs: keepSeenInMasks(defs, kept, map, keeper) };
}

/** The box around all that groups hold, cut away or not, where some are painted as pictures of their own. */
export function layersBox({ body, defs }: SeenParts): Box | undefined {
  if (!body.some(hasLayers)) return undefined;
  const definitions = definitionsById(defs);
  const boxes = body.map((element) => measurePictures(element, {}, definitions).turned?.painted);
  return boxAround(boxes.filter((box) => box !== undefined));
}

/** How elements are come by, those of a mask in as many ways as it is used. */
interface Way {
  readonly map: Affine;
  /** Each of the elements, in pixels of the canvas. */
  readonly painted: readonly Painted[];
}

class Keeper {
  readonly #definitions: ReadonlyMap<string, SvgElement>;
  readonly #measure: Measure;
  readonly #canvas: Box;

  constructor(definitions: ReadonlyMap<string, SvgElement>, canvas: Box) {
    this.#definitions = definitions;
    this.#measure = { definitions, outlines: false };
    this.#canvas = canvas;
  }

  /** What is seen through one of these maps at least; the same list where all of it is kept. */
  keepSeen(elements: readonly SvgElement[], maps: readonly Affine[]): readonly SvgElement[] {
    const ways = maps.map((map) => ({
      map,
      painted: elements.map((element) => measureTree(element, map, {}, this.#measure)),
    }));
    return this.#keepAll(elements, ways, (index) => {
      const element = elements[index];
      return element && measurePictures(element, {}, this.#definitions);
    });
  }

  #keepAll(
    elements: readonly SvgElement[],
    ways: readonly Way[],
    picturesOf: (index: number) => PictureBoxes | undefined,
  ): readonly SvgElement[] {
    const kept = elements.flatMap((element, index) =>
      this.#keep(
        element,
        ways.map(({ map, painted }) => ({ map, painted: painted[index] })),
        () => picturesOf(index),
      ),
    );
    return kept.length === elements.length && kept.every((one, k) => one === elements[k]) ? elements : kept;
  }

  #keep(
    element: SvgElement,
    ways: readonly { readonly map: Affine; readonly painted: Painted | undefined }[],
    picturesOf: () => PictureBoxes | undefined,
  ): readonly SvgElement[] {
    // What a mask defines for itself.
    if (element.attributes.id !== undefined) return [element];
    const isSeen = ways.some(
      ({ painted }) => painted?.box !== undefined && boxOverlap(painted.box, this.#canvas) !== undefined,
    );
    if (!isSeen) return [];
    if (element.name !== "g") return [element];
    const pictures = picturesOf();
    const whole = pictures?.turned?.painted;
    const isAround = whole === undefined || ways.every(({ map }) => isNear(mapBox(map, whole), this.#canvas));
    if (isAround || !standsByItself(element, this.#definitions)) return [element];
    const inside = ways.map(({ map, painted }) => ({
      map: mapInside(element, map),
      painted: painted?.inside ?? [],
    }));
    const children = childElements(element);
    const kept = this.#keepAll(children, inside, (index) => pictures?.inside[index]);
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
  const users = new Map<string, Affine[]>();
  const visit = (element: SvgElement, outer: Affine): void => {
    const inner = mapInside(element, outer);
    const id = idIn(element.attributes.mask);
    if (id !== undefined) {
      const ways = users.get(id) ?? [];
      ways.push(inner);
      users.set(id, ways);
    }
    for (const child of childElements(element)) visit(child, inner);
  };
  for (const element of body) visit(element, map);
  // Where a definition uses a mask, nobody knows where that is painted.
  const hidden = new Set(defs.flatMap(masksIn));
  return defs.map((holder) => {
    const { id = "" } = holder.attributes;
    const ways = users.get(id);
    if (!masks.includes(holder) || ways === undefined || ways.length > MOST_WAYS || hidden.has(id))
      return holder;
    const children = childElements(holder);
    const kept = keeper.keepSeen(children, ways);
    if (kept === children) return holder;
    // The renderer takes what an empty mask is put on for nothing at all, which would make the groups around it smaller.
    const isEmpty = kept.every(({ attributes }) => attributes.id !== undefined);
    return { ...holder, children: isEmpty ? [...kept, EMPTY] : kept };
  });
}

/** Paints nothing. */
const EMPTY = element("g");

/** The masks that something inside of an element is put under. */
function masksIn(element: SvgElement): readonly string[] {
  const id = idIn(element.attributes.mask);
  return [...(id === undefined ? [] : [id]), ...childElements(element).flatMap(masksIn)];
}

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
