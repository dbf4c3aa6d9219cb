import type { MixTable } from "./ink-planes.js";

/** All of an ink. */
export const FULL = 255;

/** Collects mixes, each once. */
export class MixCollector {
  readonly #places = new Map<string, number>();
  readonly #starts: number[] = [0];
  readonly #inks: number[] = [];
  readonly #weights: number[] = [];

  /**
   * The place of a mix; it is taken in where it is new.
   *
   * @param inks places of inks, ascending.
   * @param weights of each, 1 to 255, adding up to 255.
   */
  add(inks: readonly number[], weights: readonly number[]): number {
    const key = String.fromCharCode(...inks, ...weights);
    const known = this.#places.get(key);
    if (known !== undefined) return known;
    const place = this.#starts.length - 1;
    this.#inks.push(...inks);
    this.#weights.push(...weights);
    this.#starts.push(this.#inks.length);
    this.#places.set(key, place);
    return place;
  }

  table(): MixTable {
    return {
      starts: Uint32Array.from(this.#starts),
      inks: Uint16Array.from(this.#inks),
      weights: Uint8Array.from(this.#weights),
    };
  }
}

/**
 * Weights that add up to 255 exactly: what rounding left over or took away is spread over all of them, and what does not
 * divide goes to the largest ones, where it shows least. Weights that become 0 are dropped.
 */
export function balanceWeights(
  inks: readonly number[],
  weights: readonly number[],
): { readonly inks: readonly number[]; readonly weights: readonly number[] } {
  const balanced = [...weights];
  let left = FULL - weights.reduce((sum, weight) => sum + weight, 0);
  const order = weights.map((_, at) => at).sort((one, other) => (weights[other] ?? 0) - (weights[one] ?? 0));
  while (left !== 0) {
    const step = Math.sign(left);
    const open = order.filter((at) => step > 0 || (balanced[at] ?? 0) > 0);
    for (const at of open.slice(0, Math.abs(left))) {
      balanced[at] = (balanced[at] ?? 0) + step;
      left -= step;
    }
  }
  const kept = balanced.flatMap((weight, at) => (weight > 0 ? [at] : []));
  return { inks: kept.map((at) => inks[at] ?? 0), weights: kept.map((at) => balanced[at] ?? 0) };
}
