import fc from "fast-check";
import {
  type AllOver,
  type AllOverOptions,
  brick,
  halfDrop,
  type Layout,
  satin,
  stepped,
  straight,
} from "../repeat/index.js";
import { layouts } from "./layouts.js";
import { loosePlacements, onGrid, settle } from "./placements.js";
import { type AllOverPrintsOptions, readPrintsOptions } from "./print-options.js";
import { withRecipe, writeCall } from "./recipe.js";

function layOut(layout: Layout, options: AllOverOptions): AllOver {
  const made = <T>(name: string, maker: (all: T) => AllOver, all: T): AllOver =>
    withRecipe(maker(all), () => writeCall(name, all));
  switch (layout.kind) {
    case "straight":
      return made("straight", straight, options);
    case "half-drop":
      return made("halfDrop", halfDrop, options);
    case "brick":
      return made("brick", brick, options);
    case "stepped":
      return made("stepped", stepped, {
        ...options,
        along: layout.along,
        step: `${layout.step.p}/${layout.step.q}`,
      });
    case "satin":
      return made("satin", satin, { ...options, ends: layout.ends, move: layout.move });
  }
}

/**
 * All-over prints of every layout, with motifs across the edges, beyond the cell and larger than it, turned and flipped.
 * Shrinks towards a small straight repeat with one square in its middle. A counterexample is printed as the code that
 * makes it.
 *
 * @throws `RepetendError` `E_NUMBER` for an option out of range, `E_COLOUR` for a ground.
 * @example
 * ```ts
 * import fc from "fast-check";
 * import { tile } from "repetend";
 * import { allOverPrints } from "repetend/testing";
 * fc.assert(fc.property(allOverPrints({ maxMotifs: 1 }), (print) => tile(print).width >= print.width));
 * ```
 */
export function allOverPrints(options: AllOverPrintsOptions = {}): fc.Arbitrary<AllOver> {
  const { motifs, maxMotifs, grounds, grid, side, width } = readPrintsOptions(options);
  return fc
    .record({
      layout: options.layouts ?? layouts(),
      width: fc.integer(side),
      height: fc.integer(side),
      ground: fc.constantFrom(...grounds),
      motifs: loosePlacements(motifs, width, { min: 1, max: maxMotifs }),
    })
    .map(({ layout, ground, ...drawn }) => {
      const cell = { width: onGrid(drawn.width, grid), height: onGrid(drawn.height, grid) };
      return layOut(layout, { name: "Any", ...cell, ground, motifs: settle(drawn.motifs, cell, grid) });
    });
}
