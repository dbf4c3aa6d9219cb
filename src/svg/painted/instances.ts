import { RepetendError } from "../../errors.js";
import { DRAWING_LIMITS } from "../limits.js";
import type { SvgElement } from "../tree.js";
import { type Attributes, childElements, handedDown, idIn } from "./elements.js";

/** Definitions whose content is painted anew wherever they are used; gradients and filters are read once. */
const PAINTED_ANEW = /^(?:pattern|clipPath|mask)$/;

/**
 * Counts what a renderer will paint of a resolved drawing, definitions multiplied along their uses, and refuses more
 * than the limit. Exact where the walk over the file can only guess: inheritance has been settled.
 */
export function checkInstances(body: readonly SvgElement[], defs: readonly SvgElement[]): void {
  const holders = new Map<string, SvgElement>();
  const weights = new Map<string, number>();
  const collect = (element: SvgElement): void => {
    const { id } = element.attributes;
    if (id !== undefined && PAINTED_ANEW.test(element.name)) holders.set(id, element);
    for (const child of childElements(element)) collect(child);
  };
  const weighHolder = (value: string | undefined): number => {
    const id = idIn(value);
    const holder = id === undefined ? undefined : holders.get(id);
    if (id === undefined || holder === undefined) return 0;
    const weight = weights.get(id) ?? weigh(holder, {});
    weights.set(id, weight);
    return weight;
  };
  const weigh = (element: SvgElement, above: Attributes): number => {
    const attributes = handedDown(element, above);
    const { mask } = element.attributes;
    let weight = 1 + weighHolder(element.attributes["clip-path"]) + weighHolder(mask);
    const children = childElements(element);
    if (children.length === 0) weight += weighHolder(attributes.fill) + weighHolder(attributes.stroke);
    // Definitions inside of a mask count where they are used.
    for (const child of children) if (child.attributes.id === undefined) weight += weigh(child, attributes);
    return weight;
  };
  for (const element of defs) collect(element);
  const total = body.reduce((sum, element) => sum + weigh(element, {}), 0);
  if (total <= DRAWING_LIMITS.instances) return;
  throw new RepetendError("E_INSTANCES", "references multiply to too many elements", {
    value: String(total),
    accepted: `at most ${DRAWING_LIMITS.instances}`,
  });
}
