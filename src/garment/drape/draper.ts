import { type Affine, compose, IDENTITY } from "../../geometry/affine.js";
import type { Box } from "../../geometry/box.js";
import { type CubicPath, transformPath } from "../../geometry/cubic-path.js";
import { mapPath } from "../../geometry/map-path.js";
import { pathBounds } from "../../geometry/path-bounds.js";
import {
  composeSmooth,
  intoOf,
  localAffine,
  type MapInto,
  type SmoothMap,
  smoothAffine,
} from "../../geometry/smooth-map.js";
import { writePath } from "../../geometry/write-path.js";
import { regionOf } from "../../motif/effect-region.js";
import { elementBounds } from "../../motif/element-bounds.js";
import { fitFilter } from "../../motif/fit-filter.js";
import {
  element,
  parseTransform,
  type SvgElement,
  scopeIds,
  writeMatrix,
  writeNumber,
} from "../../svg/index.js";
import { mayShow, meanScale, STROKE_REACH } from "./look.js";
import { type Inherited, type Prepared, prepareElement } from "./prepared.js";
import { boxMap, boxPath, definitionsIn, fitServer, scaleNumbers } from "./servers.js";

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
  /** What is seen, in user units of the sketch: paths outside of it are left out. */
  readonly shown?: Box;
}

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
  readonly #prepared = new Map<SvgElement, Prepared>();
  /** Whether a filter around may move into sight what lies outside of it. */
  #filtered = false;
  #count = 0;

  readonly #into: MapInto;

  constructor(drawing: DrapeDrawing) {
    this.#drawing = drawing;
    this.#into = intoOf(drawing.map);
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
    const drawn: SvgElement[] = [];
    for (const one of elements) this.#drapeElement(one, place, defs, inherited, drawn);
    return drawn;
  }

  #drapeElement(
    one: SvgElement,
    place: Affine,
    defs: Definitions,
    around: Inherited,
    drawn: SvgElement[],
  ): void {
    const prepared = this.#prepare(one);
    const { transform, local, kept, path } = prepared;
    const here = transform === undefined ? place : compose(place, transform);
    const inherited: Inherited = local === undefined ? around : { ...around, ...local };
    if (one.name === "image") {
      drawn.push(...this.#drapeImage(one, here, defs));
      return;
    }
    if (one.name === "g") {
      const outside = this.#filtered;
      this.#filtered ||= prepared.effects.includes("filter");
      const attributes = { ...kept, ...this.#effects(one, here, defs) };
      const inside = this.drape(prepared.children, here, defs, inherited);
      this.#filtered = outside;
      if (Object.keys(attributes).length === 0) drawn.push(...inside);
      else if (inside.length > 0) drawn.push(element("g", attributes, inside));
      return;
    }
    if (path === undefined || path.subpaths.length === 0) return;
    const mapped = this.mapPath(transformPath(path, here));
    const scale = isPainted(inherited.stroke) ? meanScale(path, here, this.#into) : 0;
    const reach = scale * Number(inherited["stroke-width"] ?? 1) * STROKE_REACH;
    if (
      !this.#filtered &&
      !prepared.effects.includes("filter") &&
      !mayShow(mapped, reach, this.#drawing.shown)
    )
      return;
    const paints = this.#paints(one, path, scale, here, defs, inherited);
    const d = writePath(mapped, this.#drawing.digits);
    drawn.push(element("path", { ...paints, ...kept, ...this.#effects(one, here, defs), d }));
  }

  #prepare(one: SvgElement): Prepared {
    const known = this.#prepared.get(one);
    if (known !== undefined) return known;
    const prepared = prepareElement(one);
    this.#prepared.set(one, prepared);
    return prepared;
  }

  #paints(
    one: SvgElement,
    path: CubicPath,
    scale: number,
    here: Affine,
    defs: Definitions,
    inherited: Inherited,
  ): Record<string, string> {
    const paints: Record<string, string> = {};
    const { fill, stroke } = inherited;
    if (fill !== undefined && one.name !== "line") paints.fill = this.#paintServer(fill, here, path, defs);
    if (stroke === undefined || !isPainted(stroke)) return paints;
    paints.stroke = this.#paintServer(stroke, here, path, defs);
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

  /** The affine map that fits best around the middle of a box, from the element's own units to the sketch. */
  #fit(here: Affine, box: Box | undefined): Affine {
    const middle =
      box === undefined ? { x: 0, y: 0 } : { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    return localAffine(composeSmooth(this.#drawing.map, smoothAffine(here)), middle);
  }

  #write(map: Affine): string {
    return writeMatrix(map, this.#drawing.digits + 1);
  }

  #paintServer(value: string, here: Affine, path: CubicPath, defs: Definitions): string {
    const server = value.startsWith("url(") ? defs.get(URL.exec(value)?.[1] ?? "") : undefined;
    if (server === undefined) return value;
    const box = pathBounds(path);
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
    for (const name of this.#prepare(one).effects) {
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
      const bounds = elementBounds(user);
      this.#sink.push(fitFilter(found, id, this.#fit(here, bounds), user, bounds));
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
      Object.entries(found.attributes).filter(([name]) => name === "mask-type"),
    );
    const region = this.mapPath(
      transformPath(boxPath(regionOf(found, found.attributes.maskUnits, user)), here),
    );
    const attributes = { id, ...kept, ...this.#writeRegion(region), ...effects };
    // The region's upright box holds more than the region does: what lies between is cut off.
    const clip = this.nextId();
    const d = writePath(region, this.#drawing.digits);
    this.#sink.push(element("clipPath", { id: clip }, [element("path", { d })]));
    const content = element("g", { "clip-path": `url(#${clip})` }, drawn);
    outside.push(element("mask", attributes, [...this.#sink, content]));
    this.#sink = outside;
    return id;
  }

  /** A mask's region as the upright box around its image. */
  #writeRegion(region: CubicPath): Record<string, string> {
    const box = pathBounds(region);
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

function isPainted(stroke: string | undefined): boolean {
  return stroke !== undefined && stroke !== "none";
}
