import { type Affine, compose } from "../../geometry/affine.js";
import type { Motif } from "../../motif/types.js";
import { uprightFilters, uprightKey } from "../../motif/upright-filters.js";
import type { MotifCopy } from "./layers.js";

/** Motifs with filters, once for each turn in which they are drawn; all others as they are. */
export class UprightMotifs {
  readonly #onto: Affine | undefined;
  readonly #found = new Map<Motif, Map<string, Motif>>();

  constructor(onto: Affine | undefined) {
    this.#onto = onto;
  }

  /** The motif that is drawn for a copy. */
  find({ motif, map }: MotifCopy): Motif {
    if (motif.effects.length === 0) return motif;
    const onto = this.#onto === undefined ? map : compose(this.#onto, map);
    const key = uprightKey(motif, onto);
    if (key === undefined) return motif;
    const turns = this.#found.get(motif) ?? new Map<string, Motif>();
    this.#found.set(motif, turns);
    const turned = turns.get(key) ?? uprightFilters(motif, onto);
    turns.set(key, turned);
    return turned;
  }
}
