import { aFlag, aText, maybe, partsOf } from "../../checks.js";
import { RepetendError } from "../../errors.js";
import { type Affine, applyTo, compose, IDENTITY } from "../../geometry/affine.js";
import { transformPath } from "../../geometry/cubic-path.js";
import { pathArea } from "../../geometry/flatten.js";
import { pathBounds } from "../../geometry/path-bounds.js";
import { pathOfShape } from "../../geometry/shape.js";
import { parseTransform, readDrawing } from "../../svg/index.js";
import type { SvgElement } from "../../svg/tree.js";
import type { Sketch, SketchShape } from "../types.js";

/** How a sketch is read. */
export interface SketchOptions {
  /** For refusals and titles. Default: "sketch". */
  readonly name?: string;
  /** Keep filters, for soft shading. Default: false; they are dropped and listed. */
  readonly filters?: boolean;
}

/**
 * Reads a garment sketch with the same guard as a motif: nested groups, transforms, styles and classes are resolved, and
 * every shape is listed with its outline in user units of the sketch. Shapes that paint nothing are kept where they have
 * an id or a class, as lines to measure by and guides to drape along.
 *
 * @throws {@link RepetendError} the codes of `motif`, for the same reasons.
 * @example
 * ```ts
 * import { readSketch } from "repetend";
 * const sketch = readSketch('<svg xmlns="http://www.w3.org/2000/svg" width="10cm" height="10cm" viewBox="0 0 100 100">' +
 *   '<g class="skirt"><path id="front" d="M30 10H70L90 90H10Z" fill="#ffffff"/></g></svg>');
 * sketch.shapes[0]?.ids; // ["front"]
 * ```
 */
export function readSketch(svgText: string | Uint8Array, options: SketchOptions = {}): Sketch {
  partsOf<SketchOptions>({ name: maybe(aText), filters: maybe(aFlag) })(options, "options");
  const name = options.name ?? "sketch";
  const drawing = readDrawing(svgText, {
    name,
    names: true,
    filters: options.filters ?? false,
    scope: "sketch",
  });
  const shapes: SketchShape[] = [];
  const root = {
    address: [],
    ids: [],
    classes: [],
    fill: "#000000",
    evenOdd: false,
    blends: false,
    map: IDENTITY,
  };
  for (const [index, element] of drawing.body.entries())
    collectShapes(element, { ...root, address: [index] }, shapes);
  const { viewBox, width, height, defs, body, removed } = drawing;
  return { kind: "sketch", name, viewBox, width, height, defs, body, shapes, removed };
}

/** What a shape takes over from the groups around it. */
type Around = Omit<SketchShape, "outline" | "line" | "corners" | "panel">;

function collectShapes(element: SvgElement, around: Around, shapes: SketchShape[]): void {
  const { attributes } = element;
  const id = attributes["data-repetend-id"];
  const own = (attributes["data-repetend-class"] ?? "").split(/\s+/).filter((name) => name !== "");
  const transform = attributes.transform;
  const map: Affine = transform === undefined ? around.map : compose(around.map, parseTransform(transform));
  const here: Around = {
    address: around.address,
    ids: id === undefined ? around.ids : [id, ...around.ids],
    classes: [...own, ...around.classes],
    fill: attributes.fill ?? around.fill,
    evenOdd: attributes["fill-rule"] === undefined ? around.evenOdd : attributes["fill-rule"] === "evenodd",
    blends: around.blends || /mix-blend-mode/.test(attributes.style ?? ""),
    map,
  };
  if (element.name === "g") {
    for (const [index, child] of element.children.entries())
      if (child.type === "element")
        collectShapes(child, { ...here, address: [...here.address, index] }, shapes);
    return;
  }
  const path = pathOfShape(element.name, attributes);
  if (path === undefined) return;
  const outline = transformPath(path, map);
  const open = here.fill === "none" && outline.subpaths.every(({ closed }) => !closed);
  shapes.push({
    ...here,
    outline,
    line: open || isLine(outline),
    corners: readCorners(attributes["data-repetend-corners"], map),
    panel: attributes["data-repetend-panel"],
  });
}

/** An open run, or one that encloses next to nothing of its own box, such as a dart. */
function isLine(outline: SketchShape["outline"]): boolean {
  const box = pathBounds(outline);
  if (box === undefined) return true;
  const size = Math.max(box.width, box.height);
  return Math.abs(pathArea(outline)) <= 1e-6 * size * size;
}

function readCorners(text: string | undefined, map: Affine): SketchShape["corners"] {
  if (text === undefined) return undefined;
  const numbers = text
    .trim()
    .split(/[\s,]+/)
    .map(Number);
  const [one, two, three, four] = [0, 2, 4, 6].map((k) =>
    applyTo(map, { x: numbers[k] ?? Number.NaN, y: numbers[k + 1] ?? Number.NaN }),
  );
  const good = numbers.length === 8 && numbers.every(Number.isFinite);
  if (good && one && two && three && four) return [one, two, three, four];
  throw new RepetendError("E_NUMBER", "corners of a panel are four points", {
    where: "data-repetend-corners",
    value: text,
    accepted: "x,y of top left, top right, bottom right and bottom left",
  });
}
