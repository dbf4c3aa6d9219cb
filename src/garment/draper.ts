import { type Affine, compose, IDENTITY } from "../geometry/affine.js";
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
import {
  element,
  parseTransform,
  type SvgElement,
  scopeIds,
  writeMatrix,
  writeNumber,
} from "../svg/index.js";
import {
  boxMap,
  boxPath,
  definitionsIn,
  fitFilter,
  fitServer,
  regionOf,
  scaleNumbers,
} from "./drape-servers.js";
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

/** What elements refer to, by id. */
export type Definitions = ReadonlyMap<string, SvgElement>;

const DEFINITIONS = /^(?:linearGradient|radialGradient|pattern|clipPath|mask|filter)$/;

const URL = /^url\(#([^)]+)\)$/;

/** What was drawn by its best affine fit and not exactly. */
export type Approximation = "gradient" | "pattern" | "picture" | "filter";

/**
 * Draws what a drape makes of drawings: paths stay paths, definitions are made anew for each place. Lives as long as
 * one panel is drawn; what it defined on the way is in `defs`.
 */
export class Draper {
  readonly defs: SvgElement[] = [];
  /** Where definitions go: inside of a mask they stay there. */
  #sink: SvgElement[] = this.defs;
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
    defs: Definitions,
    inherited: Inherited = {},
  ): readonly SvgElement[] {
    return elements.flatMap((one) => this.#drapeElement(one, place, defs, inherited));
  }

  #drapeElement(one: SvgElement, place: Affine, defs: Definitions, around: Inherited): readonly SvgElement[] {
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
    defs: Definitions,
    inherited: Inherited,
  ): Record<string, string> {
    const paints: Record<string, string> = {};
    const box = pathBounds(path);
    const paint = (value: string): string => this.#paintServer(value, here, box, defs);
    if (inherited.fill !== undefined && one.name !== "line") paints.fill = paint(inherited.fill);
    if (inherited.stroke === undefined || inherited.stroke === "none") return paints;
    paints.stroke = paint(inherited.stroke);
    const scale = this.#strokeScale(path, here);
    const scaled = (list: string): string => scaleNumbers(list, scale, this.#drawing.digits + 1);
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

  #paintServer(value: string, here: Affine, box: Box | undefined, defs: Definitions): string {
    const server = defs.get(URL.exec(value)?.[1] ?? "");
    if (server === undefined) return value;
    const id = this.nextId();
    this.approximations.add(server.name === "pattern" ? "pattern" : "gradient");
    const fitted = fitServer(server, id, this.#fit(here, box), box, (map) => this.#write(map));
    if (server.name !== "pattern") {
      this.#sink.push(fitted);
      return `url(#${id})`;
    }
    // What a pattern shows keeps its own units, and so do the definitions it shows with.
    const scope = `${id}-`;
    const [scoped] = scopeIds([{ ...fitted, attributes: {} }], scope);
    this.#sink.push(...scopeIds(definitionsIn(element("g", {}, server.children), defs), scope));
    this.#sink.push({ ...fitted, children: scoped?.children ?? fitted.children });
    return `url(#${id})`;
  }

  /** Clip, mask and filter of an element, made anew for its place. */
  #effects(one: SvgElement, here: Affine, defs: Definitions): Record<string, string> {
    const effects: Record<string, string> = {};
    for (const name of ["clip-path", "mask", "filter"] as const) {
      const value = one.attributes[name];
      const found = value === undefined ? undefined : defs.get(URL.exec(value)?.[1] ?? "");
      if (value === undefined) continue;
      effects[name] = found === undefined ? value : `url(#${this.#defineEffect(found, one, here, defs)})`;
    }
    return effects;
  }

  #defineEffect(found: SvgElement, user: SvgElement, here: Affine, defs: Definitions): string {
    const id = this.nextId();
    if (found.name === "filter") {
      this.approximations.add("filter");
      this.#sink.push(fitFilter(found, id, this.#fit(here, elementBounds(user))));
      return id;
    }
    const children = found.children.filter((child) => child.type === "element");
    const units = found.attributes[found.name === "mask" ? "maskContentUnits" : "clipPathUnits"];
    const box = units === "objectBoundingBox" ? elementBounds(user) : undefined;
    const { transform } = found.attributes;
    const inside = compose(
      here,
      transform === undefined ? IDENTITY : parseTransform(transform),
      box === undefined ? IDENTITY : boxMap(box),
    );
    const effects = this.#effects(found, here, defs);
    if (found.name !== "mask") {
      this.#sink.push(element(found.name, { id, ...effects }, this.drape(children, inside, defs)));
      return id;
    }
    // All that a mask needs stands inside of it: its colours are no inks.
    const outside = this.#sink;
    this.#sink = [];
    const own = children.filter((child) => DEFINITIONS.test(child.name));
    const known = new Map([...defs, ...own.map((child) => [child.attributes.id ?? "", child] as const)]);
    const painted = children.filter((child) => !own.includes(child));
    const drawn = this.drape(painted, inside, known);
    const kept = Object.fromEntries(
      Object.entries(found.attributes).filter(([name]) => /^(?:mask-type|color-interpolation)$/.test(name)),
    );
    const attributes = { id, ...kept, ...this.#maskRegion(found, user, here), ...effects };
    outside.push(element("mask", attributes, [...this.#sink, ...drawn]));
    this.#sink = outside;
    return id;
  }

  /** A mask's region as an upright box around its image. */
  #maskRegion(mask: SvgElement, user: SvgElement, here: Affine): Record<string, string> {
    const region = boxPath(regionOf(mask, mask.attributes.maskUnits, user));
    const box = pathBounds(this.mapPath(transformPath(region, here)));
    if (box === undefined) return { maskUnits: "userSpaceOnUse" };
    const write = (value: number): string => writeNumber(value, this.#drawing.digits);
    const { x, y, width, height } = box;
    return {
      maskUnits: "userSpaceOnUse",
      x: write(x),
      y: write(y),
      width: write(width),
      height: write(height),
    };
  }

  #drapeImage(image: SvgElement, here: Affine, defs: Definitions): readonly SvgElement[] {
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
