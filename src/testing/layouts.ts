import fc from "fast-check";
import type { Layout } from "../repeat/index.js";
import { readStep } from "../repeat/index.js";
import { readChoices, readNumber } from "./bounds.js";
import { layoutsOptions } from "./checks.js";

/** What {@link layouts} draws from. */
export interface LayoutsOptions {
  /** Which layouts; the first is the simplest. At least one. Default: straight, half-drop, brick, stepped, satin. */
  readonly kinds?: readonly Layout["kind"][];
  /** The largest q of a step p/q, 2 to 64, inclusive. Default 6. */
  readonly largestStep?: number;
  /** The largest number of ends of a satin, 5 to 64, inclusive. Default 9. */
  readonly mostEnds?: number;
}

const ALL_KINDS = ["straight", "half-drop", "brick", "stepped", "satin"] as const;

const areCoprime = (one: number, other: number): boolean =>
  other === 0 ? one === 1 : areCoprime(other, one % other);

/** The moves that a satin of so many ends allows; none for 6 ends. */
const movesOf = (ends: number): readonly number[] =>
  Array.from({ length: ends - 3 }, (_, k) => k + 2).filter((move) => areCoprime(ends, move));

function layoutsOf(kind: Layout["kind"], largestStep: number, mostEnds: number): fc.Arbitrary<Layout> {
  switch (kind) {
    case "straight":
    case "half-drop":
    case "brick":
      return fc.constant({ kind });
    case "stepped":
      return fc
        .record({
          along: fc.constantFrom("column" as const, "row" as const),
          q: fc.integer({ min: 2, max: largestStep }),
          p: fc.nat(largestStep - 2),
        })
        .map(({ along, q, p }) => ({ kind, along, step: readStep({ p: 1 + (p % (q - 1)), q }) }));
    case "satin": {
      const orders = Array.from({ length: mostEnds - 4 }, (_, k) => k + 5).flatMap((ends) =>
        movesOf(ends).map((move) => ({ kind, ends, move })),
      );
      return fc.nat(orders.length - 1).map((place) => orders[place] ?? { kind, ends: 5, move: 2 });
    }
  }
}

/**
 * Layouts of all-over prints: straight, half-drop, brick, steps p/q along columns and rows in lowest terms, and every
 * satin order up to a number of ends. Shrinks to the first kind, a step to 1/2 along columns, a satin to 5 ends, move 2.
 *
 * @throws `RepetendError` `E_NUMBER` for an option out of range.
 * @example
 * ```ts
 * import fc from "fast-check";
 * import { layouts } from "repetend/testing";
 * fc.assert(fc.property(layouts({ kinds: ["satin"] }), (layout) => layout.kind === "satin" && layout.ends !== 6));
 * ```
 */
export function layouts(options: LayoutsOptions = {}): fc.Arbitrary<Layout> {
  layoutsOptions(options, "options");
  const kinds = readChoices("kinds", options.kinds ?? ALL_KINDS);
  const step = readNumber("largestStep", options.largestStep ?? 6, { atLeast: 2, atMost: 64, whole: true });
  const ends = readNumber("mostEnds", options.mostEnds ?? 9, { atLeast: 5, atMost: 64, whole: true });
  return fc.oneof({ withCrossShrink: true }, ...kinds.map((kind) => layoutsOf(kind, step, ends)));
}
