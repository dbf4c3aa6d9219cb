import { type Affine, compose, determinant, IDENTITY } from "../../geometry/affine.js";
import { type Box, growBox } from "../../geometry/box.js";
import { type CubicPath, transformPath } from "../../geometry/cubic-path.js";
import { pathBounds } from "../../geometry/path-bounds.js";
import { pathOfShape } from "../../geometry/shape.js";
import { parseTransform, readDrawing, type SvgElement } from "../../svg/index.js";

/** One painted shape of a tile, in mm of the tile. */
export interface TileShape {
  /** The id nearest to it in the drawing, its own or that of a group around it. */
  readonly id: string | undefined;
  /** What it is drawn as: "path", "circle"… */
  readonly element: string;
  /** With half its stroke. */
  readonly box: Box;
  /** Where its outline goes, from the corner of its box on: to tell copies from other shapes. */
  readonly outline: readonly number[];
  /** Paint, stroke and opacity as text: copies have the same. */
  readonly paint: string;
  /** An upright rectangle, as grounds and stripes are. */
  readonly isUpright: boolean;
}

/** What paints a shape; its geometry and its place are compared for themselves. */
const PAINTS = [
  "fill",
  "fill-opacity",
  "fill-rule",
  "stroke",
  "stroke-opacity",
  "stroke-width",
  "stroke-dasharray",
  "stroke-linecap",
  "stroke-linejoin",
  "opacity",
];

interface Around {
  readonly map: Affine;
  readonly id: string | undefined;
  readonly paints: Readonly<Record<string, string>>;
}

/** The painted shapes of a tile's SVG, whatever groups, uses and nested viewports they stand in. */
export function listTileShapes(svg: string, width: number, height: number): readonly TileShape[] {
  const { body, viewBox } = readDrawing(svg, { name: "tile", names: true });
  const [x, y] = [width / viewBox.width, height / viewBox.height];
  const toMm: Affine = { a: x, b: 0, c: 0, d: y, e: -viewBox.x * x, f: -viewBox.y * y };
  const shapes: TileShape[] = [];
  const visit = (element: SvgElement, around: Around): void => {
    const { attributes } = element;
    const { transform } = attributes;
    const map = transform === undefined ? around.map : compose(around.map, parseTransform(transform));
    const id = attributes["data-repetend-id"] ?? around.id;
    const own = PAINTS.filter((name) => attributes[name] !== undefined).map((name) => [
      name,
      attributes[name],
    ]);
    const paints = { ...around.paints, ...Object.fromEntries(own) };
    const path = pathOfShape(element.name, attributes);
    if (path === undefined) {
      for (const child of element.children) if (child.type === "element") visit(child, { map, id, paints });
      return;
    }
    const shape = describeShape(element.name, transformPath(path, map), { map, id, paints });
    if (shape) shapes.push(shape);
  };
  for (const element of body) visit(element, { map: IDENTITY, id: undefined, paints: {} });
  return shapes;

  function describeShape(element: string, inUnits: CubicPath, around: Around): TileShape | undefined {
    const path = transformPath(inUnits, toMm);
    const bounds = pathBounds(path);
    if (bounds === undefined) return undefined;
    const stroke =
      (around.paints.stroke ?? "none") === "none" ? 0 : Number(around.paints["stroke-width"] ?? 1);
    const scale = Math.sqrt(Math.abs(determinant(compose(toMm, around.map))));
    const box = growBox(bounds, (stroke * scale) / 2);
    return {
      id: around.id,
      element,
      box,
      outline: path.subpaths.flatMap(({ points }) =>
        points.map((value, k) => value - (k % 2 === 0 ? box.x : box.y)),
      ),
      paint: PAINTS.map((name) => around.paints[name] ?? "").join("|"),
      isUpright: element === "rect" && around.map.b === 0 && around.map.c === 0,
    };
  }
}
