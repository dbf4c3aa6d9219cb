import { type Affine, type Box, IDENTITY } from "../../geometry/index.js";
import type { SvgElement, SvgNode } from "../tree.js";
import { aroundAll, type Measure, measureTree, type Painted } from "./box.js";
import { definitionsById } from "./elements.js";
import { standsByItself } from "./layers.js";

/**
 * Boxes that hold what each element of a drawing paints, in the drawing's units: x, y, width, height for every one as it
 * is come by, groups before what they hold. Flat, since a print of many drawings is sent from process to process.
 */
export type PaintedBoxes = readonly number[];

/** What paints nothing lies beyond everything. */
const NOWHERE: Box = { x: Number.MAX_VALUE, y: Number.MAX_VALUE, width: 0, height: 0 };

/** A drawing's elements, measured once. */
export interface MeasuredDrawing {
  /** Around all; `undefined` where nothing is painted. */
  readonly box: Box | undefined;
  readonly boxes: PaintedBoxes;
}

/** Measures a drawing and each of its elements, so that {@link leaveOut} need not. */
export function paintedBoxes(body: readonly SvgElement[], defs: readonly SvgElement[]): MeasuredDrawing {
  const measure: Measure = { definitions: definitionsById(defs), outlines: false };
  const painted = body.map((element) => measureTree(element, IDENTITY, {}, measure));
  const boxes: number[] = [];
  const list = ({ box, inside }: Painted): void => {
    boxes.push(...listBox(box));
    for (const one of inside) list(one);
  };
  for (const one of painted) list(one);
  return { box: aroundAll(painted), boxes };
}

/** A box as it stands in a list. */
export function listBox(box: Box | undefined): PaintedBoxes {
  const { x, y, width, height } = box ?? NOWHERE;
  return [x, y, width, height];
}

/** What a renderer may colour beyond a box, hairlines too, in pixels. */
const BLEED = 2;

/** Where a drawing is seen. */
export interface ShownThrough {
  /** From the drawing to the window's pixels. */
  readonly map: Affine;
  readonly window: Box;
}

/**
 * Leaves out what a window does not show of a drawing: groups, and shapes that nothing ties to others. The same list comes
 * back where all of it shows.
 *
 * @param boxes those of this very drawing; where they are not as many as its elements, all is kept.
 */
export function leaveOut(
  { body, defs }: { readonly body: readonly SvgElement[]; readonly defs: readonly SvgElement[] },
  boxes: PaintedBoxes,
  shown: ShownThrough,
): readonly SvgElement[] {
  if (boxes.length !== 4 * countElements(body)) return body;
  let definitions: ReadonlyMap<string, SvgElement> | undefined;
  let at = 0;
  const keepAll = <N extends SvgNode>(nodes: readonly N[]): readonly N[] => {
    const kept: N[] = [];
    let isSame = true;
    for (const node of nodes) {
      const one = node.type === "element" ? (keep(node) as N | undefined) : node;
      if (one !== node) isSame = false;
      if (one !== undefined) kept.push(one);
    }
    return isSame ? nodes : kept;
  };
  const keep = (element: SvgElement): SvgElement | undefined => {
    const shows = element.attributes.id !== undefined || isShown(boxes, at, shown);
    at += 4;
    const { children } = element;
    if (shows && children.length === 0) return element;
    definitions ??= definitionsById(defs);
    if (!shows || !standsByItself(element, definitions)) {
      at += 4 * countElements(children);
      return shows ? element : undefined;
    }
    const inside = keepAll(children);
    if (inside.length === 0) return undefined;
    return inside === children ? element : { ...element, children: inside };
  };
  return keepAll(body);
}

function countElements(nodes: readonly SvgNode[]): number {
  let count = 0;
  for (const node of nodes) if (node.type === "element") count += 1 + countElements(node.children);
  return count;
}

/** Whether anything in the box that begins at this place of a list shows, from its middle and half its size. */
function isShown(boxes: PaintedBoxes, at: number, { map, window }: ShownThrough): boolean {
  const [wide, high] = [(boxes[at + 2] ?? 0) / 2, (boxes[at + 3] ?? 0) / 2];
  const [x, y] = [(boxes[at] ?? 0) + wide, (boxes[at + 1] ?? 0) + high];
  const across = map.a * x + map.c * y + map.e - window.x;
  const down = map.b * x + map.d * y + map.f - window.y;
  const aside = Math.abs(map.a) * wide + Math.abs(map.c) * high + BLEED;
  const above = Math.abs(map.b) * wide + Math.abs(map.d) * high + BLEED;
  return (
    across >= -aside && across <= window.width + aside && down >= -above && down <= window.height + above
  );
}
