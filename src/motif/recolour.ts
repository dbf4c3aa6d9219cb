import { aText, tableOf } from "../checks.js";
import type { SvgElement, SvgNode } from "../svg/index.js";
import { aMotif } from "./checks.js";
import { countInks } from "./inks.js";
import type { Motif } from "./types.js";

const PAINTS: ReadonlySet<string> = new Set([
  "fill",
  "stroke",
  "stop-color",
  "flood-color",
  "lighting-color",
]);

/**
 * The motif with other inks: every fill, stroke, gradient stop, flood and light whose ink is named. All change at
 * once, so two inks may trade places; masks and embedded pictures stay as they are. The same motif comes back when
 * nothing changes.
 *
 * @param inks - From each ink of the motif to what it becomes, both `#rrggbb` in lower case.
 * @example
 * ```ts
 * import { motif, recolourMotif } from "repetend";
 * const seed = motif(
 *   `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 8 8"><circle cx="4" cy="4" r="3" fill="teal"/></svg>`,
 * );
 * recolourMotif(seed, { "#008080": "#c05020" }).inks; // [{ ink: "#c05020", uses: 1 }]
 * ```
 */
export function recolourMotif(motif: Motif, inks: Readonly<Record<string, string>>): Motif {
  aMotif(motif, "motif");
  tableOf(aText)(inks, "inks");
  const body = recolourAll(motif.body, inks);
  const defs = recolourAll(motif.defs, inks);
  if (body === motif.body && defs === motif.defs) return motif;
  return { ...motif, body, defs, inks: countInks(body, defs) };
}

/** The same array where nothing changes, so that what is shared stays shared. */
function recolourAll<N extends SvgNode>(
  nodes: readonly N[],
  inks: Readonly<Record<string, string>>,
): readonly N[] {
  const recoloured = nodes.map((node) => (node.type === "element" ? (recolourOne(node, inks) as N) : node));
  return recoloured.some((node, index) => node !== nodes[index]) ? recoloured : nodes;
}

function recolourOne(element: SvgElement, inks: Readonly<Record<string, string>>): SvgElement {
  if (element.name === "mask" || element.name === "clipPath") return element;
  const children = recolourAll(element.children, inks);
  const entries = Object.entries(element.attributes);
  const changed = entries.map(([name, value]): [string, string] => [
    name,
    PAINTS.has(name) && Object.hasOwn(inks, value) ? (inks[value] ?? value) : value,
  ]);
  const same = changed.every(([, value], index) => value === entries[index]?.[1]);
  if (same && children === element.children) return element;
  return { ...element, attributes: same ? element.attributes : Object.fromEntries(changed), children };
}
