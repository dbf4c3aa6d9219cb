import type { Affine } from "../../geometry/affine.js";
import type { CubicPath } from "../../geometry/cubic-path.js";
import { pathOfShape } from "../../geometry/shape.js";
import { parseTransform, type SvgElement } from "../../svg/index.js";

/** Attributes that are geometry: a mapped path replaces them. */
const GEOMETRY: ReadonlySet<string> = new Set(
  "d x y width height rx ry cx cy r x1 y1 x2 y2 points transform".split(" "),
);

/** Inherited attributes that change with the place, so that each shape says its own. */
const LOCAL = ["fill", "stroke", "stroke-width", "stroke-dasharray", "stroke-dashoffset"] as const;

/** Attributes that refer to what is made anew for each place. */
const EFFECTS = ["clip-path", "mask", "filter"] as const;

/** What surroundings say about paints. */
export type Inherited = Readonly<Partial<Record<(typeof LOCAL)[number], string>>>;

/** All of an element that is the same wherever a copy of it lies. */
export interface Prepared {
  readonly transform: Affine | undefined;
  /** Its geometry in its own user units; `undefined` for what is no shape. */
  readonly path: CubicPath | undefined;
  /** The local attributes that it says itself; `undefined` for none. */
  readonly local: Inherited | undefined;
  /** Attributes that mean the same everywhere; `undefined` for none. */
  readonly kept: Readonly<Record<string, string>> | undefined;
  readonly children: readonly SvgElement[];
  /** Clip, mask and filter that it has. */
  readonly effects: readonly (typeof EFFECTS)[number][];
}

/** Reads an element once for all its copies. */
export function prepareElement(one: SvgElement): Prepared {
  const { attributes } = one;
  const { transform } = attributes;
  const local = Object.fromEntries(
    LOCAL.flatMap((name) => (attributes[name] === undefined ? [] : [[name, attributes[name]]])),
  );
  const left: readonly string[] = [...LOCAL, ...EFFECTS, "id"];
  const kept = Object.entries(attributes).filter(([name]) => !GEOMETRY.has(name) && !left.includes(name));
  return {
    transform: transform === undefined ? undefined : parseTransform(transform),
    path: one.name === "g" ? undefined : pathOfShape(one.name, attributes),
    local: Object.keys(local).length === 0 ? undefined : local,
    kept: kept.length === 0 ? undefined : Object.fromEntries(kept),
    children: one.children.filter((child) => child.type === "element"),
    effects: EFFECTS.filter((name) => attributes[name] !== undefined),
  };
}
