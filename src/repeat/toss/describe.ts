import { made } from "../../checks.js";
import type { Tossed } from "./result.js";

const number = (value: number): string => String(Number(value.toFixed(2)));

const aToss = made("a toss, from toss()", "tossed");

/**
 * What a toss reached, in one sentence: how many of each, the smallest gap, the widest hole, how much is covered.
 *
 * @example
 * ```ts
 * import { describeToss, motif, toss } from "repetend";
 * const dot = motif('<svg xmlns="http://www.w3.org/2000/svg" width="2cm" height="2cm" viewBox="0 0 20 20">' +
 *   '<circle cx="10" cy="10" r="9" fill="#c8553d"/></svg>', { name: "dot" });
 * const tossed = toss({ space: { width: "4cm", height: "4cm" }, motifs: [{ motif: dot }], gap: "4mm", count: 1 });
 * describeToss(tossed).startsWith("1 dot"); // true
 * ```
 */
export function describeToss(tossed: Tossed): string {
  aToss(tossed, "tossed");
  const { facts } = tossed;
  const counts = facts.motifs.map(({ count, motif }) => `${count} ${motif}`).join(", ");
  const { smallest, hole, covered } = facts;
  const gap =
    smallest === undefined
      ? "no two near each other"
      : `smallest gap ${number(smallest.gap)} mm (${smallest.between.join(" to ")})`;
  return `${counts}; ${gap}; widest hole ${number(hole.diameter)} mm across; ${Math.round(covered * 100)} % covered`;
}
