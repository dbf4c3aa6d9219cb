import { RepetendError } from "../../errors.js";
import { DRAWING_LIMITS } from "../limits.js";

/** A cascade layer. What stands in no layer stands in the outermost one. */
export interface Layer {
  /** How many layers it lies inside of. */
  readonly depth: number;
  /** The layers inside by name, in the order in which they were first named. */
  readonly inner: Map<string, Layer>;
  /** Every layer of the drawing, whose number has a limit. */
  readonly all: Layer[];
}

/** The layer that holds all others. */
export const outermostLayer = (): Layer => ({ depth: 0, inner: new Map(), all: [] });

/** The layer of a name such as `base.lines`, seen from another; it takes its place in the order when first named. */
export function layerNamed(name: string, within: Layer, where: string): Layer {
  return name.split(".").reduce((layer, part) => innerLayer(part, layer, where), within);
}

/** A layer without a name, which nothing else can add to. */
export function layerOfNoName(within: Layer, where: string): Layer {
  // No name holds a space.
  return innerLayer(` ${within.inner.size}`, within, where);
}

function innerLayer(part: string, within: Layer, where: string): Layer {
  const known = within.inner.get(part);
  if (known !== undefined) return known;
  if (within.depth >= DRAWING_LIMITS.depth) {
    throw new RepetendError("E_DEPTH", "cascade layers nest too deeply", {
      where,
      accepted: `at most ${DRAWING_LIMITS.depth} inside each other`,
    });
  }
  if (within.all.length >= DRAWING_LIMITS.rules) {
    throw new RepetendError("E_LIMIT", "the style sheets have too many cascade layers", {
      where,
      accepted: `at most ${DRAWING_LIMITS.rules}`,
    });
  }
  const made: Layer = { depth: within.depth + 1, inner: new Map(), all: within.all };
  within.inner.set(part, made);
  within.all.push(made);
  return made;
}

/**
 * How strong each layer is among all, for declarations that are not important: a later one is stronger than an earlier
 * one, and a layer is stronger than those inside it (CSS Cascading and Inheritance 5, section 6.4.3).
 */
export function rankLayers(outermost: Layer): ReadonlyMap<Layer, number> {
  const ranks = new Map<Layer, number>();
  const rank = (layer: Layer): void => {
    for (const inner of layer.inner.values()) rank(inner);
    ranks.set(layer, ranks.size);
  };
  rank(outermost);
  return ranks;
}
