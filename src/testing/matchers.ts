import type { PixelImage } from "../image/index.js";
import type { MatcherResult } from "./matcher.js";
import { type CloseSeamsOptions, toCloseSeams } from "./to-close-seams.js";
import { toHaveInks } from "./to-have-inks.js";
import { type RepeatEveryOptions, type RepeatVector, toRepeatEvery } from "./to-repeat-every.js";

/** The matchers as functions, for `expect.extend`. */
export type RepetendMatcherFunctions = {
  /** The tile closes on its neighbours. */
  readonly toCloseSeams: (
    received: unknown,
    options?: CloseSeamsOptions,
  ) => MatcherResult | Promise<MatcherResult>;
  /** It has exactly these inks. */
  readonly toHaveInks: (received: unknown, inks: readonly string[]) => MatcherResult;
  /** It is the same picture one vector on. */
  readonly toRepeatEvery: (
    received: unknown,
    vector: RepeatVector,
    options?: RepeatEveryOptions,
  ) => MatcherResult | Promise<MatcherResult>;
};

/** What a matcher of a subject returns: nothing for pixels, which are judged at once; else a promise to wait for. */
// biome-ignore lint/suspicious/noConfusingVoidType: it is what the methods below return
export type JudgedAtOnce<Subject> = Subject extends PixelImage ? void : Promise<void>;

/**
 * The matchers as they stand behind `expect(subject)`. vitest knows them once `repetend/testing` is imported; for Jest,
 * docs/testing.md has the lines to add.
 */
export interface RepetendMatchers<Subject = unknown> {
  /**
   * The tile closes: laid to its neighbours as its layout has it, no seam shows. Of a `PixelImage` at once; of a `Print`
   * (its tile), a `Tile` or SVG text through `{ rasterise }`, and then it must be awaited.
   */
  toCloseSeams(options?: CloseSeamsOptions): JudgedAtOnce<Subject>;
  /** Exactly these inks, in any order: of a `Print`, a `Motif`, or the pixels of a flat picture that are not bare. */
  toHaveInks(inks: readonly string[]): void;
  /**
   * The same picture one vector on. Of a `PixelImage` at once, in whole pixels, over all that has a partner; of a function
   * from a window in mm to pixels or SVG text, and then it must be awaited.
   */
  toRepeatEvery(vector: RepeatVector, options?: RepeatEveryOptions): JudgedAtOnce<Subject>;
}

/**
 * Matchers for tests of repeats, for `expect.extend` of vitest or Jest: `toCloseSeams`, `toRepeatEvery`, `toHaveInks`.
 * All understand `.not`. What they cannot judge they refuse, with `.not` too.
 *
 * @throws `RepetendError` Each of them: `E_USAGE` for a subject of another kind, or a drawing without a renderer.
 * `toCloseSeams`: what `checkSeams` throws. `toHaveInks`: `E_COLOUR`. `toRepeatEvery`: `E_NUMBER` for a vector of 0, one
 * that is not whole pixels or not below the picture's size, and for options out of range.
 * @example
 * ```ts
 * import { border, field, type Window } from "repetend";
 * import { repetendMatchers } from "repetend/testing";
 * import { expect } from "vitest";
 * expect.extend(repetendMatchers);
 * const print = border({ name: "Plain", repeat: 320, width: 1400, ground: "#f2ead8", bands: [] });
 * expect(print).toHaveInks(["#f2ead8"]);
 * await expect((window: Window) => field(print, window)).toRepeatEvery({ x: 320 });
 * ```
 */
export const repetendMatchers: RepetendMatcherFunctions = { toCloseSeams, toHaveInks, toRepeatEvery };
