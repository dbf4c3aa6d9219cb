import { RepetendError } from "../errors.js";
import type { Declared } from "./css/cascade.js";
import { DEFINITIONS } from "./elements.js";
import { DRAWING_LIMITS } from "./limits.js";
import { readHref, readUrls } from "./references.js";
import { findById } from "./xml/by-id.js";
import type { Source } from "./xml/parse.js";
import { elementsIn, placeOf, type SourceElement } from "./xml/source.js";

/** Elements whose `href` brings something else to be painted. */
const FOLLOWED = /^(?:use|linearGradient|radialGradient|pattern|filter|feImage)$/;

/** Properties whose `url()` brings something else to be painted. */
const REFERRING = [
  "clip-path",
  "fill",
  "filter",
  "marker-end",
  "marker-mid",
  "marker-start",
  "mask",
  "stroke",
];

interface Edge {
  readonly target: SourceElement;
  /** The id that was followed; `undefined` for a child. */
  readonly id: string | undefined;
  /** How often the target's elements are painted. */
  readonly times: number;
}

interface Visit {
  readonly element: SourceElement;
  readonly edges: readonly Edge[];
  readonly by: string | undefined;
  next: number;
  weight: number;
  depth: number;
}

/**
 * Walks the graph of what is inside what and what refers to what, before anything is drawn: rings are refused with
 * their path, and so are references that multiply to too many elements or nest too deeply. No recursion: the chain of
 * references may be as long as the drawing.
 *
 * @returns How many elements each element comes to.
 */
export function checkReferences(
  source: Source,
  declared: ReadonlyMap<SourceElement, Declared>,
): ReadonlyMap<SourceElement, number> {
  const done = new Map<SourceElement, { readonly weight: number; readonly depth: number }>();
  const open = new Map<SourceElement, number>();
  const trail: Visit[] = [];
  const enter = (element: SourceElement, by: string | undefined): void => {
    const edges = edgesOf(element, source, declared.get(element));
    open.set(element, trail.length);
    trail.push({ element, edges, by, next: 0, weight: 1, depth: 0 });
  };
  enter(source.root, undefined);
  for (let visit = trail.at(-1); visit !== undefined; visit = trail.at(-1)) {
    const edge = visit.edges[visit.next];
    if (edge === undefined) {
      if (visit.depth >= DRAWING_LIMITS.depth) throw tooDeep(visit.element);
      done.set(visit.element, { weight: visit.weight, depth: visit.depth + 1 });
      open.delete(visit.element);
      trail.pop();
      continue;
    }
    const known = done.get(edge.target);
    if (known !== undefined) {
      visit.weight += known.weight * edge.times;
      visit.depth = Math.max(visit.depth, known.depth);
      if (visit.weight > DRAWING_LIMITS.instances) throw tooMany(visit.element, visit.weight);
      visit.next += 1;
    } else if (open.has(edge.target)) {
      throw ring(trail.slice(open.get(edge.target)), edge);
    } else enter(edge.target, edge.id);
  }
  return new Map([...done].map(([element, { weight }]) => [element, weight]));
}

function edgesOf(element: SourceElement, source: Source, declared: Declared | undefined): readonly Edge[] {
  if (declared === undefined) return [];
  // What only paints when it is referred to is counted there.
  const paints = !DEFINITIONS.has(element.svgName) || isHolder(element);
  const edges: Edge[] = elementsIn(element).map((target) => ({
    target,
    id: undefined,
    times: paints && !DEFINITIONS.has(target.svgName) ? 1 : 0,
  }));
  const add = (id: string, times: number): void => {
    const target = findById(source.ids, id);
    if (target !== undefined) edges.push({ target, id, times });
  };
  const href = FOLLOWED.test(element.svgName) ? element.attributes.get("href") : undefined;
  if (href !== undefined) add(readHref(href, placeOf(element)), element.svgName === "use" ? 1 : 0);
  for (const property of REFERRING) {
    const value = declared.get(property);
    if (value === undefined || !/url\(/i.test(value)) continue;
    for (const id of readUrls(value, placeOf(element))) {
      const name = findById(source.ids, id)?.svgName ?? "";
      // Gradients and filters are read once, however often they are used.
      const anew = /^(?:pattern|clipPath|mask|marker)$/.test(name) ? 1 : 0;
      add(id, name === "marker" ? countVertices(element) : anew);
    }
  }
  return edges;
}

/** How many numbers make a vertex, by path command. */
const NUMBERS: Readonly<Record<string, number>> = { M: 2, L: 2, T: 2, H: 1, V: 1, C: 6, S: 4, Q: 4, A: 7 };

/** About how many vertices a shape has: a marker is painted on each. */
function countVertices(element: SourceElement): number {
  const d = element.attributes.get("d") ?? `M${element.attributes.get("points") ?? ""}`;
  let count = 0;
  for (const [command] of d.matchAll(/[A-DF-Z][^A-DF-Z]*/gi)) {
    const numbers = command.match(/[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?/gi)?.length ?? 0;
    count += Math.ceil(numbers / (NUMBERS[command[0]?.toUpperCase() ?? ""] ?? 1));
  }
  return Math.max(1, count);
}

/** Definitions whose children are painted where the definition is used. */
function isHolder({ svgName }: SourceElement): boolean {
  return /^(?:pattern|clipPath|mask|marker|symbol)$/.test(svgName);
}

function tooDeep(element: SourceElement): RepetendError {
  return new RepetendError("E_DEPTH", "elements and references nest too deeply", {
    where: placeOf(element),
    accepted: `at most ${DRAWING_LIMITS.depth} inside each other`,
  });
}

function tooMany(element: SourceElement, weight: number): RepetendError {
  return new RepetendError("E_INSTANCES", "references multiply to too many elements", {
    where: placeOf(element),
    value: String(weight),
    accepted: `at most ${DRAWING_LIMITS.instances}`,
  });
}

function ring(visits: readonly Visit[], last: Edge): RepetendError {
  const ids = visits.slice(1).flatMap((visit) => (visit.by === undefined ? [] : [visit.by]));
  const start = visits[0]?.element;
  const first = last.id ?? visits[0]?.by ?? start?.attributes.get("id") ?? "";
  const path = [first, ...ids, first].map((id) => `#${id}`).join(" -> ");
  return new RepetendError("E_CYCLE", `references go round in a ring: ${path}`, {
    ...(start === undefined ? {} : { where: placeOf(start) }),
    value: path,
  });
}
