import { type Affine, compose, determinant, IDENTITY, scaling, translation } from "../geometry/affine.js";
import type { Box } from "../geometry/box.js";
import { type CubicPath, transformPath } from "../geometry/cubic-path.js";
import { mapPath } from "../geometry/map-path.js";
import { pathBounds } from "../geometry/path-bounds.js";
import { pathOfShape } from "../geometry/shape.js";
import {
  composeSmooth,
  localAffine,
  type SmoothMap,
  smoothAffine,
  stretchAt,
} from "../geometry/smooth-map.js";
import { writePath } from "../geometry/write-path.js";
import { element, parseTransform, type SvgElement, writeMatrix, writeNumber } from "../svg/index.js";
import { elementBounds } from "./element-bounds.js";

/** How a drape is drawn. */
export interface DrapeDrawing {
  /** From the print, in mm, to user units of the sketch. */
  readonly map: SmoothMap;
  /** How far a mapped path may lie off, in user units of the sketch. */
  readonly tolerance: number;
  /** Digits after the point. */
  readonly digits: number;
  /** The prefix of new ids. */
  readonly scope: string;
}

/** Attributes that are geometry: a mapped path replaces them. */
const GEOMETRY: ReadonlySet<string> = new Set(
  "d x y width height rx ry cx cy r x1 y1 x2 y2 points transform".split(" "),
);

/** Inherited attributes that change with the place, so that each shape says its own. */
const LOCAL = ["fill", "stroke", "stroke-width", "stroke-dasharray", "stroke-dashoffset"] as const;

type Inherited = Readonly<Partial<Record<(typeof LOCAL)[number], string>>>;

const URL = /^url\(#([^)]+)\)$/;

/** What was drawn by its best affine fit and not exactly. */
export type Approximation = "gradient" | "pattern" | "picture" | "filter";

/**
 * Draws what a drape makes of drawings: paths stay paths, definitions are made anew for each place. Lives as long as
 * one panel is drawn; what it defined on the way is in `defs`.
 */
export class Draper {
  readonly defs: SvgElement[] = [];
  readonly approximations: Set<Approximation> = new Set();
  /** The largest miss met, in user units of the sketch. */
  worst = 0;
  readonly #drawing: DrapeDrawing;
  readonly #paths = new Map<SvgElement, CubicPath | undefined>();
  #count = 0;

  constructor(drawing: DrapeDrawing) {
    this.#drawing = drawing;
  }

  /** A path of the print, in mm, as it lies on the sketch. */
  mapPath(path: CubicPath): CubicPath {
    const mapped = mapPath(path, this.#drawing.map, this.#drawing.tolerance);
    this.worst = Math.max(this.worst, mapped.worst);
    return mapped.path;
  }

  /** The `d` of a path of the print, in mm, as it lies on the sketch. */
  writeMapped(path: CubicPath): string {
    return writePath(this.mapPath(path), this.#drawing.digits);
  }

  nextId(): string {
    this.#count += 1;
    return `${this.#drawing.scope}${this.#count}`;
  }

  /** Elements that lie in the print by `place`, with what they refer to, as they lie on the sketch. */
  drape(
    elements: readonly SvgElement[],
    place: Affine,
    defs: ReadonlyMap<string, SvgElement>,
    inherited: Inherited = {},
  ): readonly SvgElement[] {
    return elements.flatMap((one) => this.#drapeElement(one, place, defs, inherited));
  }

  #drapeElement(
    one: SvgElement,
    place: Affine,
    defs: ReadonlyMap<string, SvgElement>,
    around: Inherited,
  ): readonly SvgElement[] {
    const { transform } = one.attributes;
    const here = transform === undefined ? place : compose(place, parseTransform(transform));
    const inherited: Inherited = { ...around, ...pick(one.attributes) };
    if (one.name === "image") return this.#drapeImage(one, here, defs);
    if (one.name === "g") {
      const children = one.children.filter((child) => child.type === "element");
      const kept = { ...this.#keep(one, LOCAL), ...this.#effects(one, here, defs) };
      const drawn = this.drape(children, here, defs, inherited);
      return Object.keys(kept).length === 0 ? drawn : [element("g", kept, drawn)];
    }
    const path = this.#pathOf(one);
    if (path === undefined || path.subpaths.length === 0) return [];
    const d = this.writeMapped(transformPath(path, here));
    const paints = this.#paints(one, path, here, defs, inherited);
    return [element("path", { ...paints, ...this.#keep(one, LOCAL), ...this.#effects(one, here, defs), d })];
  }

  #pathOf(one: SvgElement): CubicPath | undefined {
    if (!this.#paths.has(one)) this.#paths.set(one, pathOfShape(one.name, one.attributes));
    return this.#paths.get(one);
  }

  /** Attributes that mean the same everywhere. */
  #keep(one: SvgElement, without: readonly string[]): Record<string, string> {
    return Object.fromEntries(
      Object.entries(one.attributes).filter(
        ([name]) =>
          !GEOMETRY.has(name) && !without.includes(name) && !/^(?:clip-path|mask|filter|id)$/.test(name),
      ),
    );
  }

  #paints(
    one: SvgElement,
    path: CubicPath,
    here: Affine,
    defs: ReadonlyMap<string, SvgElement>,
    inherited: Inherited,
  ): Record<string, string> {
    const paints: Record<string, string> = {};
    const box = pathBounds(path);
    const paint = (value: string): string => this.#paintServer(value, here, box, defs);
    if (inherited.fill !== undefined && one.name !== "line") paints.fill = paint(inherited.fill);
    if (inherited.stroke === undefined || inherited.stroke === "none") return paints;
    paints.stroke = paint(inherited.stroke);
    const scale = this.#strokeScale(path, here);
    const scaled = (text: string): string =>
      text
        .split(/[\s,]+/)
        .map((part) => writeNumber(Number(part) * scale, this.#drawing.digits + 1))
        .join(" ");
    paints["stroke-width"] = scaled(inherited["stroke-width"] ?? "1");
    const dashes = inherited["stroke-dasharray"];
    if (dashes !== undefined && dashes !== "none") {
      paints["stroke-dasharray"] = scaled(dashes);
      if (inherited["stroke-dashoffset"] !== undefined)
        paints["stroke-dashoffset"] = scaled(inherited["stroke-dashoffset"]);
    }
    return paints;
  }

  /** The mean of the local scale along a path: a stroke has one width only. */
  #strokeScale(path: CubicPath, here: Affine): number {
    const both = composeSmooth(this.#drawing.map, smoothAffine(here));
    const places = path.subpaths.flatMap(({ points }) => {
      const step = Math.max(1, Math.ceil(points.length / 6 / 12)) * 6;
      return Array.from({ length: Math.ceil((points.length - 1) / step) }, (_, k) => ({
        x: points[k * step] ?? 0,
        y: points[k * step + 1] ?? 0,
      }));
    });
    const sum = places.reduce((total, place) => total + Math.sqrt(Math.abs(stretchAt(both, place))), 0);
    return sum / Math.max(1, places.length);
  }

  /** The affine map that fits best around the middle of a box, from the element's own units to the sketch. */
  #fit(here: Affine, box: Box | undefined): Affine {
    const middle =
      box === undefined ? { x: 0, y: 0 } : { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    return localAffine(composeSmooth(this.#drawing.map, smoothAffine(here)), middle);
  }

  #write(map: Affine): string {
    return writeMatrix(map, this.#drawing.digits + 1);
  }

  #paintServer(
    value: string,
    here: Affine,
    box: Box | undefined,
    defs: ReadonlyMap<string, SvgElement>,
  ): string {
    const server = defs.get(URL.exec(value)?.[1] ?? "");
    if (server === undefined) return value;
    const id = this.nextId();
    const pattern = server.name === "pattern";
    this.approximations.add(pattern ? "pattern" : "gradient");
    const fit = this.#fit(here, box);
    const key = pattern ? "patternTransform" : "gradientTransform";
    const own = server.attributes[key];
    const units = server.attributes[pattern ? "patternUnits" : "gradientUnits"];
    const inBox = units !== "userSpaceOnUse" && box !== undefined;
    // A pattern in shares of the box has its cell there, its content still in user units: both are said in user units.
    const cell = pattern && inBox ? cellInUserUnits(server, box) : {};
    const unit = !pattern && inBox ? boxMap(box) : IDENTITY;
    const map = compose(fit, unit, own === undefined ? IDENTITY : parseTransform(own));
    const shares = pattern ? {} : sharesOf(server, inBox);
    const wrapped =
      pattern && server.attributes.patternContentUnits === "objectBoundingBox" && box !== undefined
        ? [element("g", { transform: this.#write(boxMap(box)) }, server.children)]
        : server.children;
    const { patternContentUnits: _units, ...attributes } = server.attributes;
    this.defs.push(
      element(
        server.name,
        {
          ...attributes,
          ...shares,
          ...cell,
          id,
          [pattern ? "patternUnits" : "gradientUnits"]: "userSpaceOnUse",
          [key]: this.#write(map),
        },
        wrapped,
      ),
    );
    return `url(#${id})`;
  }

  /** Clip, mask and filter of an element, made anew for its place. */
  #effects(one: SvgElement, here: Affine, defs: ReadonlyMap<string, SvgElement>): Record<string, string> {
    const effects: Record<string, string> = {};
    for (const name of ["clip-path", "mask", "filter"] as const) {
      const value = one.attributes[name];
      const found = value === undefined ? undefined : defs.get(URL.exec(value)?.[1] ?? "");
      if (value === undefined) continue;
      effects[name] = found === undefined ? value : `url(#${this.#defineEffect(found, one, here, defs)})`;
    }
    return effects;
  }

  #defineEffect(
    found: SvgElement,
    user: SvgElement,
    here: Affine,
    defs: ReadonlyMap<string, SvgElement>,
  ): string {
    const id = this.nextId();
    const children = found.children.filter((child) => child.type === "element");
    if (found.name === "filter") {
      this.approximations.add("filter");
      const scale = Math.sqrt(Math.abs(determinant(this.#fit(here, elementBounds(user)))));
      this.defs.push(scaleFilter({ ...found, attributes: { ...found.attributes, id } }, scale));
      return id;
    }
    const units = found.attributes[found.name === "mask" ? "maskContentUnits" : "clipPathUnits"];
    const box = units === "objectBoundingBox" ? elementBounds(user) : undefined;
    const transform = found.attributes.transform;
    const inside = compose(
      here,
      transform === undefined ? IDENTITY : parseTransform(transform),
      box === undefined ? IDENTITY : boxMap(box),
    );
    const drawn = this.drape(children, inside, defs, pick(found.attributes));
    const kept: Record<string, string> = { id };
    const style = found.attributes.style ?? found.attributes["mask-type"];
    if (found.name === "mask") Object.assign(kept, this.#maskRegion(found, user, here));
    if (style !== undefined) kept[found.attributes.style === undefined ? "mask-type" : "style"] = style;
    const effects = this.#effects(found, here, defs);
    this.defs.push(element(found.name, { ...kept, ...effects }, drawn));
    return id;
  }

  /** A mask's region as an upright box around its image. */
  #maskRegion(mask: SvgElement, user: SvgElement, here: Affine): Record<string, string> {
    const number = (name: string, initial: number): number => {
      const text = mask.attributes[name];
      return text === undefined ? initial : text.endsWith("%") ? Number.parseFloat(text) / 100 : Number(text);
    };
    const share = {
      x: number("x", -0.1),
      y: number("y", -0.1),
      width: number("width", 1.2),
      height: number("height", 1.2),
    };
    const own = mask.attributes.maskUnits === "userSpaceOnUse" ? undefined : elementBounds(user);
    const region: CubicPath | undefined = pathOfShape("rect", {
      x: String(own === undefined ? share.x : own.x + share.x * own.width),
      y: String(own === undefined ? share.y : own.y + share.y * own.height),
      width: String(own === undefined ? share.width : share.width * own.width),
      height: String(own === undefined ? share.height : share.height * own.height),
    });
    const box = region && pathBounds(this.mapPath(transformPath(region, here)));
    if (box === undefined) return { maskUnits: "userSpaceOnUse" };
    const write = (value: number): string => writeNumber(value, this.#drawing.digits);
    return {
      maskUnits: "userSpaceOnUse",
      x: write(box.x),
      y: write(box.y),
      width: write(box.width),
      height: write(box.height),
    };
  }

  #drapeImage(image: SvgElement, here: Affine, defs: ReadonlyMap<string, SvgElement>): readonly SvgElement[] {
    this.approximations.add("picture");
    const attributes = Object.fromEntries(
      Object.entries(image.attributes).filter(
        ([name]) => !/^(?:transform|clip-path|mask|filter|id)$/.test(name),
      ),
    );
    const transform = this.#write(this.#fit(here, elementBounds(image)));
    const drawn = element("image", { ...attributes, ...(transform === "" ? {} : { transform }) });
    const effects = this.#effects(image, here, defs);
    return Object.keys(effects).length === 0 ? [drawn] : [element("g", effects, [drawn])];
  }
}

function pick(attributes: Readonly<Record<string, string>>): Inherited {
  return Object.fromEntries(
    LOCAL.flatMap((name) => (attributes[name] === undefined ? [] : [[name, attributes[name]]])),
  );
}

/** From shares of a box to the units of the box. */
function boxMap(box: Box): Affine {
  return compose(translation(box.x, box.y), scaling(box.width, box.height));
}

/** What a gradient means where it says nothing: said, since in user units silence means something else. */
function sharesOf(server: SvgElement, inBox: boolean): Readonly<Record<string, string>> {
  if (!inBox) return {};
  const initial: Readonly<Record<string, string>> =
    server.name === "linearGradient"
      ? { x1: "0", y1: "0", x2: "1", y2: "0" }
      : { cx: "0.5", cy: "0.5", r: "0.5" };
  const plain = (text: string): string => (text.endsWith("%") ? String(Number.parseFloat(text) / 100) : text);
  const said = Object.fromEntries(
    Object.entries(server.attributes)
      .filter(([name]) => /^(?:x1|y1|x2|y2|cx|cy|r|fx|fy|fr)$/.test(name))
      .map(([name, value]) => [name, plain(value)]),
  );
  return { ...initial, ...said };
}

function cellInUserUnits(server: SvgElement, box: Box): Readonly<Record<string, string>> {
  const share = (name: string): number => Number(server.attributes[name] ?? 0);
  return {
    x: String(box.x + share("x") * box.width),
    y: String(box.y + share("y") * box.height),
    width: String(share("width") * box.width),
    height: String(share("height") * box.height),
  };
}

/** Lengths inside a filter, at the local scale. */
function scaleFilter(filter: SvgElement, scale: number): SvgElement {
  const lengths = new Set(["stdDeviation", "dx", "dy", "radius"]);
  const walk = (one: SvgElement): SvgElement => ({
    ...one,
    attributes: Object.fromEntries(
      Object.entries(one.attributes).map(([name, value]) => [
        name,
        lengths.has(name)
          ? value
              .split(/[\s,]+/)
              .map((part) => writeNumber(Number(part) * scale, 6))
              .join(" ")
          : value,
      ]),
    ),
    children: one.children.map((child) => (child.type === "element" ? walk(child) : child)),
  });
  return walk(filter);
}
