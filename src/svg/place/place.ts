import { RepetendError } from "../../errors.js";
import { type Affine, compose } from "../../geometry/affine.js";
import type { Declared } from "../css/cascade.js";
import { computeStyle, INITIAL_STYLE, type Style } from "../css/style.js";
import { DRAWING_LIMITS } from "../limits.js";
import type { Losses } from "../notes.js";
import type { SvgElement } from "../tree.js";
import type { Viewport } from "../values/length.js";
import { checkMap } from "../values/transform.js";
import type { Source } from "../xml/parse.js";
import type { SourceElement } from "../xml/source.js";
import type { Defs } from "./defs.js";

/** What stays the same while one drawing is read. */
export interface Reading {
  readonly source: Source;
  readonly declared: ReadonlyMap<SourceElement, Declared>;
  readonly losses: Losses;
  readonly filters: boolean;
  /** Keep ids and classes of what is painted, as own data. */
  readonly names: boolean;
  /** The longer side of what is shown, in user units: how fine numbers are written depends on it. */
  readonly extent: number;
  /** Pixels of 1/96 in to a user unit at the natural size: what a stroke that does not scale is measured in. */
  readonly pixels: number;
  readonly memory: Memory;
  /** Counts characters of paths and pictures, which references multiply too, against the limit. */
  readonly countCharacters: (characters: number, element: SourceElement) => void;
  /** Counts what references bring in, against the limit. */
  readonly count: (element: SourceElement) => void;
  /** Refuses what would pass that limit if it were brought in so many times, before any of it is. */
  readonly foresee: (times: number, element: SourceElement) => void;
  /** What may still be measured to find out whether a clip cuts anything. */
  readonly mayMeasure: (elements: readonly SvgElement[]) => boolean;
  /** Reads what is painted; handed in so that definitions can hold paintings too. */
  readonly paint: (elements: readonly SourceElement[], place: Place) => readonly SvgElement[];
}

/** What was worked out before and will be asked for again. */
export interface Memory {
  /** Path data rewritten, by digits and data. */
  readonly paths: Map<number, Map<string, string>>;
  /** Styles where elements stand in the file. */
  readonly styles: Map<SourceElement, Style>;
  /** Stops of gradients, those of templates too. */
  readonly stops: Map<SourceElement, readonly GradientStop[]>;
}

/** One stop of a gradient, its colour looked up. */
export interface GradientStop {
  readonly offset: number;
  readonly hex: string;
  readonly alpha: number;
}

/** Where in the resolved drawing something is read: changes from element to element and from use to use. */
export interface Place {
  /** The style to inherit from. */
  readonly style: Style;
  readonly viewport: Viewport;
  /** To the user units of the drawing; `undefined` where that depends on the size of what is painted. */
  readonly map: Affine | undefined;
  /** Where definitions go. */
  readonly defs: Defs;
  /** How many elements this one is painted inside of, references followed. */
  readonly depth: number;
  /** Ids of the definitions and uses that lead here: what is on it must not come again. */
  readonly trail: readonly string[];
  /** What `context-fill` and `context-stroke` stand for. */
  readonly context?: ContextPaint;
}

/** The paints of the shape that a marker sits on. */
export interface ContextPaint {
  readonly fill: Paint;
  readonly stroke: Paint;
}

/** A paint with nothing left to look up. */
export type Paint =
  | { readonly kind: "none" }
  | { readonly kind: "colour"; readonly hex: string; readonly alpha: number }
  | { readonly kind: "server"; readonly id: string };

/** Digits after the point that keep an error below a millionth of the drawing. */
export function digitsAt(place: Pick<Place, "map">, reading: Pick<Reading, "extent">): number {
  const { map } = place;
  if (map === undefined) return 8;
  const scale = Math.max(Math.hypot(map.a, map.b), Math.hypot(map.c, map.d));
  return Math.min(12, Math.max(0, Math.ceil(6 - Math.log10(reading.extent / scale))));
}

/** No map of anything painted passes this in a drawing of any use; keeps products of maps finite. */
const LARGEST_SCALE = DRAWING_LIMITS.number ** 2;

/** The place inside of a map, which is held against the limits by itself and together with all around it. */
export function moveInto(map: Affine, place: Place, element: SourceElement): Place {
  const where = `${element.line}:${element.column}`;
  checkMap(map, where);
  if (place.map === undefined) return place;
  const whole = compose(place.map, map);
  const parts = [whole.a, whole.b, whole.c, whole.d, whole.e, whole.f];
  if (parts.every((part) => Math.abs(part) < LARGEST_SCALE)) return { ...place, map: whole };
  throw new RepetendError("E_NUMBER", "transforms inside each other grow out of range", {
    where,
    value: parts.join(" "),
    accepted: `numbers below ${LARGEST_SCALE}`,
  });
}

/** The place behind a reference; a ring is refused here too, since `var()` hides it from the walk over the file. */
export function enter(id: string, place: Place, user: SourceElement): Place {
  const trail = [...place.trail, id];
  if (place.trail.includes(id)) {
    const path = trail
      .slice(trail.indexOf(id))
      .map((one) => `#${one}`)
      .join(" -> ");
    throw new RepetendError("E_CYCLE", `references go round in a ring: ${path}`, {
      where: `${user.line}:${user.column}`,
      value: path,
    });
  }
  if (trail.length >= DRAWING_LIMITS.depth) {
    throw new RepetendError("E_DEPTH", "references nest too deeply", {
      where: `${user.line}:${user.column}`,
      accepted: `at most ${DRAWING_LIMITS.depth} inside each other`,
    });
  }
  return { ...place, trail };
}

/** What a definition depends on besides its source: definitions are shared where this is the same. */
export function placeKey(place: Place): string {
  const { map, viewport } = place;
  const scale =
    map === undefined ? "box" : [map.a, map.b, map.c, map.d].map((part) => part.toFixed(6)).join(" ");
  return `${viewport.width} ${viewport.height} ${scale}`;
}

/** The style of an element where it stands in the file: what definitions inherit. */
export function styleInFile(element: SourceElement, reading: Pick<Reading, "declared" | "memory">): Style {
  const { styles } = reading.memory;
  const above: SourceElement[] = [];
  let next: SourceElement | undefined = element;
  for (; next !== undefined && !styles.has(next); next = next.parent) above.push(next);
  const known = next === undefined ? undefined : styles.get(next);
  return above.reduceRight((parent, one) => {
    const style = styleOf(one, parent, reading);
    styles.set(one, style);
    return style;
  }, known ?? INITIAL_STYLE);
}

/** The style of an element below another. */
export function styleOf(element: SourceElement, parent: Style, reading: Pick<Reading, "declared">): Style {
  const declared = reading.declared.get(element) ?? new Map<string, string>();
  return computeStyle(declared, parent, `${element.line}:${element.column}`);
}

/** What a sketch says of a panel or a guide: its corners, and which panel it belongs to. */
const SKETCH_DATA = ["data-repetend-corners", "data-repetend-panel"] as const;

/** The id and classes of an element as own data, and a sketch's own data, where they are asked for. */
export function namesOf(
  element: SourceElement,
  reading: Pick<Reading, "names">,
): Readonly<Record<string, string>> {
  if (!reading.names) return {};
  const id = element.attributes.get("id")?.trim() ?? "";
  const classes = element.attributes.get("class")?.trim() ?? "";
  return {
    ...(id === "" ? {} : { "data-repetend-id": id }),
    ...(classes === "" ? {} : { "data-repetend-class": classes }),
    ...Object.fromEntries(
      SKETCH_DATA.flatMap((name) => {
        const value = element.attributes.get(name);
        return value === undefined ? [] : [[name, value]];
      }),
    ),
  };
}
