import { type Affine, compose, IDENTITY, scaling, translation } from "../../geometry/affine.js";
import type { Box } from "../../geometry/box.js";
import type { CubicPath } from "../../geometry/cubic-path.js";
import { pathOfShape } from "../../geometry/shape.js";
import { element, parseTransform, type SvgElement, writeNumber } from "../../svg/index.js";

/** From shares of a box to the units of the box. */
export function boxMap(box: Box): Affine {
  return compose(translation(box.x, box.y), scaling(box.width, box.height));
}

/** The outline of a box. */
export function boxPath(box: Box): CubicPath {
  const { x, y, width, height } = box;
  const attributes = { x: String(x), y: String(y), width: String(width), height: String(height) };
  return pathOfShape("rect", attributes) ?? { subpaths: [] };
}

/**
 * A gradient or pattern as one of the sketch's own: in user units, `fit` (from the units of its user to the sketch)
 * put before its own map.
 */
export function fitServer(
  server: SvgElement,
  id: string,
  fit: Affine,
  box: Box | undefined,
  write: (map: Affine) => string,
): SvgElement {
  const pattern = server.name === "pattern";
  const [unitsName, mapName] = pattern
    ? (["patternUnits", "patternTransform"] as const)
    : (["gradientUnits", "gradientTransform"] as const);
  const own = server.attributes[mapName];
  const inBox = server.attributes[unitsName] !== "userSpaceOnUse" && box !== undefined;
  const unit = !pattern && inBox ? boxMap(box) : IDENTITY;
  const map = write(compose(fit, unit, own === undefined ? IDENTITY : parseTransform(own)));
  const geometry = !inBox ? {} : pattern ? cellInUserUnits(server, box) : sharesOf(server);
  // A pattern's content in shares of a box is put into user units by a group of its own; its origin is its tile's.
  const wrapped =
    pattern && box !== undefined && server.attributes.patternContentUnits === "objectBoundingBox"
      ? [element("g", { transform: write(scaling(box.width, box.height)) }, server.children)]
      : server.children;
  const kept = Object.entries(server.attributes).filter(
    ([name]) => name !== "patternContentUnits" && name !== mapName,
  );
  return element(
    server.name,
    {
      ...Object.fromEntries(kept),
      ...geometry,
      id,
      [unitsName]: "userSpaceOnUse",
      ...(map === "" ? {} : { [mapName]: map }),
    },
    wrapped,
  );
}

/** What a gradient means where it says nothing: said, since in user units silence means something else. */
function sharesOf(server: SvgElement): Readonly<Record<string, string>> {
  const initial: Readonly<Record<string, string>> =
    server.name === "linearGradient"
      ? { x1: "0", y1: "0", x2: "1", y2: "0" }
      : { cx: "0.5", cy: "0.5", r: "0.5" };
  const said = Object.entries(server.attributes).filter(([name]) => /^(?:[xy][12]|[cf][xy]|f?r)$/.test(name));
  return { ...initial, ...Object.fromEntries(said) };
}

function cellInUserUnits(server: SvgElement, box: Box): Readonly<Record<string, string>> {
  const share = (name: string): number => Number(server.attributes[name] ?? 0);
  return {
    x: writeNumber(box.x + share("x") * box.width),
    y: writeNumber(box.y + share("y") * box.height),
    width: writeNumber(share("width") * box.width),
    height: writeNumber(share("height") * box.height),
  };
}

/** A list of numbers, each times a factor. */
export function scaleNumbers(list: string, factor: number, digits: number = 6): string {
  return list
    .split(/[\s,]+/)
    .filter((part) => part !== "")
    .map((part) => writeNumber(Number(part) * factor, digits))
    .join(" ");
}

/** The definitions that an element refers to, and those that they refer to, each once. */
export function definitionsIn(
  root: SvgElement,
  defs: ReadonlyMap<string, SvgElement>,
): readonly SvgElement[] {
  const found = new Map<string, SvgElement>();
  const visit = (one: SvgElement): void => {
    for (const value of Object.values(one.attributes)) {
      const id = /^url\(#([^)]+)\)$/.exec(value)?.[1];
      const target = id === undefined ? undefined : defs.get(id);
      if (id === undefined || target === undefined || found.has(id)) continue;
      found.set(id, target);
      visit(target);
    }
    for (const child of one.children) if (child.type === "element") visit(child);
  };
  visit(root);
  return [...found.values()];
}
