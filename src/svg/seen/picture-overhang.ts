import { type Affine, type Box, boxOverlap, compose, mapBox, scaling } from "../../geometry/index.js";
import { childElements, definitionsById, idIn } from "../painted/elements.js";
import { hasHiddenLayers, hasLayers, isLayer } from "../painted/layers.js";
import type { SvgElement } from "../tree.js";
import { fitMap, readAspectRatio, readViewBox } from "../values/frame.js";
import { parseTransform } from "../values/transform.js";
import type { SeenThrough } from "./keep-seen.js";
import { measurePictures, overBox, type PictureBoxes } from "./picture-boxes.js";

/** How far pictures leave a canvas; the renderer bears as much as the canvas is large. */
export interface Overhang {
  readonly x: number;
  readonly y: number;
}

/** What the renderer paints in: the canvas, or a picture that goes into it. */
interface Sheet {
  /** To pixels of the canvas, or of a pattern's tile. */
  readonly map: Affine;
  /** Where its upper left corner lies at least, and at most. */
  readonly corner: { readonly x: Range; readonly y: Range };
  /** What of it can show; `undefined` for nothing, and where nobody knows. */
  readonly shown: Box | undefined;
  readonly kind: "canvas" | "picture" | "hidden";
}

type Range = readonly [least: number, most: number];

const AXES = [
  ["x", "width"],
  ["y", "height"],
] as const;

/** A picture begins no farther before the one that it is painted in, and ends no farther behind: so many canvases. */
const CANVASES = 2;

/** The renderer counts pixels up to here. */
const MOST_PIXELS = 2 ** 31;

/**
 * How far a drawing's groups that are painted as pictures of their own leave a canvas for what the renderer bears, which
 * is as much as the canvas; 0 for none. The renderer cuts a picture two canvases from the corner of the one that it is
 * painted in, on either side, so that
 *
 * - what lies in a picture that leaves the canvas by more than that to the left or to the top is lost,
 * - one that lies farther off than that ends the process.
 *
 * What masks hold is painted in the picture of what they are put on, and may lie anywhere; what patterns hold in a tile.
 */
export function nestedOverhang(
  elements: readonly SvgElement[],
  defs: readonly SvgElement[],
  { map, canvas }: SeenThrough,
): Overhang {
  if (!elements.some(hasLayers) && !hasHiddenLayers(defs)) return { x: 0, y: 0 };
  const definitions = definitionsById(defs);
  const overhang = { x: 0, y: 0 };
  const count = (axis: "x" | "y", far: number): void => {
    overhang[axis] = Math.max(overhang[axis], far);
  };

  /** Without asking where exactly each picture begins: all that hold others, and those inside of others. */
  const lookRoughly = (box: Box, holds: boolean, isInside: boolean): void => {
    for (const [start, size] of AXES) {
      if (holds) count(start, canvas[start] - box[start]);
      if (isInside && box[start] > canvas[start] + canvas[size]) count(start, box[start] - canvas[start]);
    }
  };

  const look = (most: Box, least: Box, { corner, shown }: Sheet): void => {
    const seen = shown && boxOverlap(most, shown);
    for (const [start, size] of AXES) {
      const [first, last] = corner[start];
      const lost = seen === undefined ? -Infinity : seen[start] + seen[size] - first;
      const far = Math.max(least[start] - first, last - (least[start] + least[size]), lost);
      count(start, most[size] < MOST_PIXELS ? far + (1 - CANVASES) * canvas[size] : Infinity);
    }
  };

  const cornerIn = (most: Box, least: Box, { corner }: Sheet, start: "x" | "y"): Range => {
    const [first, last] = corner[start];
    const cut = CANVASES * canvas[start === "x" ? "width" : "height"];
    return [Math.max(most[start], first - cut), Math.max(least[start], last - cut)];
  };

  const measured = new Map<string, readonly PictureBoxes[]>();
  const contentOf = (holder: SvgElement): readonly PictureBoxes[] => {
    const { id = "" } = holder.attributes;
    const content =
      measured.get(id) ??
      childElements(holder)
        // The others are what a mask defines for itself.
        .filter(({ attributes }) => attributes.id === undefined)
        .map((element) => measurePictures(element, {}, definitions));
    measured.set(id, content);
    return content;
  };

  const visit = (one: PictureBoxes, sheet: Sheet): void => {
    const { element, boxes, turned } = one;
    if (boxes === undefined || turned === undefined) return;
    const map = one.transform === undefined ? sheet.map : compose(sheet.map, one.transform);
    let inner: Sheet = { ...sheet, map };
    if (isLayer(element)) {
      const [most, least] = [mapBox(map, boxes.most), mapBox(map, boxes.least)];
      if (sheet.kind !== "hidden") {
        const holds = one.inside.some(({ isLayered }) => isLayered) || isMaskLayered(element);
        lookRoughly(mapBox(sheet.map, turned.painted), holds, sheet.kind === "picture");
      }
      look(most, least, sheet);
      inner = {
        map,
        corner: { x: cornerIn(most, least, sheet, "x"), y: cornerIn(most, least, sheet, "y") },
        shown: sheet.shown && boxOverlap(sheet.shown, most),
        kind: sheet.kind === "hidden" ? "hidden" : "picture",
      };
      visitMask(element, boxes.outline, { ...inner, kind: "hidden" });
    }
    for (const child of one.inside) visit(child, inner);
    if (element.name !== "g") visitPatterns(one, boxes.outline, map);
  };

  const isMaskLayered = ({ attributes: { mask } }: SvgElement): boolean => {
    const found = definitions.get(idIn(mask) ?? "");
    return found !== undefined && childElements(found).some(hasLayers);
  };

  /** A mask's own mask is put on the same picture. */
  const visitMask = ({ attributes }: SvgElement, outline: Box, sheet: Sheet): void => {
    const mask = definitions.get(idIn(attributes.mask) ?? "");
    if (mask === undefined) return;
    visitMask(mask, outline, sheet);
    const inBox = mask.attributes.maskContentUnits === "objectBoundingBox";
    const map = inBox ? compose(sheet.map, overBox(outline)) : sheet.map;
    for (const one of contentOf(mask)) visit(one, { ...sheet, map });
  };

  /** A tile is a canvas of its own, of another size, but what is too far for it goes by the size of the canvas. */
  const visitPatterns = ({ attributes }: PictureBoxes, outline: Box, map: Affine): void => {
    for (const paint of [attributes.fill, attributes.stroke]) {
      const pattern = definitions.get(idIn(paint) ?? "");
      if (pattern?.name !== "pattern") continue;
      const corner = { x: [0, 0], y: [0, 0] } as const;
      const inTile = tileMap(pattern, outline, map);
      for (const one of contentOf(pattern))
        visit(one, { map: inTile, corner, shown: undefined, kind: "hidden" });
    }
  };

  const corner = { x: [canvas.x, canvas.x], y: [canvas.y, canvas.y] } as const;
  for (const element of elements) {
    visit(measurePictures(element, {}, definitions), { map, corner, shown: canvas, kind: "canvas" });
  }
  return overhang;
}

/** From what a pattern holds to the pixels of a tile, which lies upright however the pattern is turned. */
function tileMap({ attributes }: SvgElement, outline: Box, map: Affine): Affine {
  const { viewBox, patternTransform = "" } = attributes;
  const turned = patternTransform === "" ? map : compose(map, parseTransform(patternTransform));
  const scale = scaling(Math.hypot(turned.a, turned.c), Math.hypot(turned.b, turned.d));
  if (viewBox !== undefined) {
    const inUse = attributes.patternUnits === "userSpaceOnUse";
    const tile = {
      x: 0,
      y: 0,
      width: Number(attributes.width) * (inUse ? 1 : outline.width),
      height: Number(attributes.height) * (inUse ? 1 : outline.height),
    };
    const fit = fitMap(
      readViewBox(viewBox, "viewBox"),
      tile,
      readAspectRatio(attributes.preserveAspectRatio),
    );
    return compose(scale, fit);
  }
  if (attributes.patternContentUnits !== "objectBoundingBox") return scale;
  return compose(scale, scaling(outline.width, outline.height));
}
