import { RepetendError } from "../errors.js";
import { DRAWING_LIMITS } from "./limits.js";
import type { SvgElement } from "./tree.js";

const REFERENCE = /url\(#([^)]+)\)/;

/** Definitions whose content is painted anew wherever they are used; gradients and filters are read once. */
const PAINTED_ANEW = /^(?:pattern|clipPath|mask)$/;

/**
 * Counts what a renderer will paint of a resolved drawing, definitions multiplied along their uses, and refuses more
 * than the limit. Exact where the walk over the file can only guess: inheritance has been settled.
 */
export function checkInstances(body: readonly SvgElement[], defs: readonly SvgElement[]): void {
  const holders = new Map<string, SvgElement>();
  const weights = new Map<SvgElement, number>();
  const collect = (element: SvgElement): void => {
    const { id } = element.attributes;
    if (id !== undefined && PAINTED_ANEW.test(element.name)) holders.set(id, element);
    for (const child of element.children) if (child.type === "element") collect(child);
  };
  const weigh = (element: SvgElement): number => {
    const known = weights.get(element);
    if (known !== undefined) return known;
    let weight = 1;
    for (const value of Object.values(element.attributes)) {
      const holder = holders.get(REFERENCE.exec(value)?.[1] ?? "");
      if (holder !== undefined) weight += weigh(holder);
    }
    for (const child of element.children) {
      // Definitions inside of a mask count where they are used.
      if (child.type === "element" && child.attributes.id === undefined) weight += weigh(child);
    }
    weights.set(element, weight);
    return weight;
  };
  for (const element of [...defs, ...body]) collect(element);
  const total = body.reduce((sum, element) => sum + weigh(element), 0);
  if (total <= DRAWING_LIMITS.instances) return;
  throw new RepetendError("E_INSTANCES", "references multiply to too many elements", {
    value: String(total),
    accepted: `at most ${DRAWING_LIMITS.instances}`,
  });
}
