import fc from "fast-check";
import { type BandOptions, type Border, border } from "../repeat/index.js";
import { readNumber } from "./bounds.js";
import { MOTIF_INKS } from "./motifs.js";
import { type LoosePlacement, loosePlacements, onGrid, settle } from "./placements.js";
import { type BorderPrintsOptions, type ReadPrintsOptions, readPrintsOptions } from "./print-options.js";
import { withRecipe, writeCall } from "./recipe.js";
import { someOf } from "./some-of.js";

/** A band whose limits are still shares of the cloth's width, in thousandths. */
interface LooseBand {
  readonly from: number;
  readonly less: number;
  readonly period: number | undefined;
  readonly fit: "scale" | "space" | undefined;
  readonly ground: string | undefined;
  readonly clip: boolean;
  readonly motifs: readonly LoosePlacement[];
}

function looseBands(read: ReadPrintsOptions): fc.Arbitrary<LooseBand> {
  const { motifs, maxMotifs, side, width } = read;
  return fc.record({
    from: fc.nat(999),
    less: fc.nat(999),
    period: fc.option(fc.integer({ min: Math.max(1, Math.floor(side.min / 2)), max: side.max }), {
      nil: undefined,
      freq: 2,
    }),
    fit: fc.constantFrom(undefined, "space" as const, "scale" as const),
    ground: fc.constantFrom(undefined, ...MOTIF_INKS.slice(0, 2)),
    clip: fc.boolean(),
    motifs: loosePlacements(motifs, width, { min: 0, max: maxMotifs }),
  });
}

function settleBand(
  loose: LooseBand,
  index: number,
  cloth: { readonly repeat: number; readonly steps: number; readonly grid: number },
): BandOptions {
  const { repeat, steps, grid } = cloth;
  const from = Math.min(steps - 1, Math.floor((steps * loose.from) / 1000));
  const to = Math.max(from + 1, steps - Math.floor(((steps - from) * loose.less) / 1000));
  const [start, end] = [onGrid(from, grid), onGrid(to, grid)];
  const period = loose.period === undefined ? undefined : onGrid(loose.period, grid);
  return {
    name: `band ${index + 1}`,
    from: start,
    to: end,
    ...(period === undefined ? {} : { period }),
    ...(loose.fit === undefined ? {} : { fit: loose.fit }),
    ...(loose.ground === undefined ? {} : { ground: loose.ground }),
    ...(loose.clip ? { clip: true } : {}),
    motifs: settle(loose.motifs, { width: Math.min(period ?? repeat, repeat), height: end - start }, grid),
  };
}

/**
 * Border prints with a few bands, which may lie over each other: periods that divide the repeat and periods that must
 * be fitted, motifs that lean out of their band and over the selvedges, cut or not. Shrinks towards one band as wide as
 * the cloth, without motifs. A counterexample is printed as the code that makes it.
 *
 * @throws `RepetendError` `E_NUMBER` for an option out of range, `E_COLOUR` for a ground.
 * @example
 * ```ts
 * import fc from "fast-check";
 * import { tile } from "repetend";
 * import { borderPrints } from "repetend/testing";
 * fc.assert(fc.property(borderPrints({ maxBands: 2 }), (print) => tile(print).height === print.width));
 * ```
 */
export function borderPrints(options: BorderPrintsOptions = {}): fc.Arbitrary<Border> {
  const read = readPrintsOptions(options);
  const { grid, grounds, side } = read;
  const most = readNumber("maxBands", options.maxBands ?? 3, { atLeast: 1, atMost: 20, whole: true });
  return fc
    .record({
      repeat: fc.integer(side),
      width: fc.integer(side),
      ground: fc.constantFrom(...grounds),
      bands: someOf(looseBands(read), { min: 1, max: most }),
    })
    .map((drawn) => {
      const repeat = onGrid(drawn.repeat, grid);
      const cloth = { repeat, steps: drawn.width, grid };
      const all = {
        name: "Any",
        repeat,
        width: onGrid(drawn.width, grid),
        ground: drawn.ground,
        bands: drawn.bands.map((band, index) => settleBand(band, index, cloth)),
      };
      return withRecipe(border(all), () => writeCall("border", all));
    });
}
