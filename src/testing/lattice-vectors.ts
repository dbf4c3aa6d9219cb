import fc from "fast-check";
import { aNumber } from "../checks.js";
import type { Point } from "../geometry/index.js";
import { latticePoint } from "../geometry/lattice.js";
import { aPrint } from "../repeat/checks.js";
import { latticeOf, type Print } from "../repeat/index.js";
import { readNumber } from "./bounds.js";
import { vectorsOptions } from "./checks.js";

/** What {@link latticeVectors} draws from. */
export interface LatticeVectorsOptions {
  /** The largest number of columns and of rows, each way, inclusive; 1 to 1000. Default 6. */
  readonly furthest?: number;
}

/**
 * A vector, in mm, that takes a print's endless cloth to itself: some columns and rows on. A border repeats along the
 * cloth only, so its rows count for nothing.
 *
 * @example
 * ```ts
 * import { halfDrop } from "repetend";
 * import { latticeVector } from "repetend/testing";
 * latticeVector(halfDrop({ name: "Plain", width: 80, height: 100, motifs: [] }), 1, 0); // { x: 80, y: 50 }
 * ```
 */
export function latticeVector(print: Print, column: number, row: number): Point {
  aPrint(print, "print");
  aNumber(column, "column");
  aNumber(row, "row");
  return print.kind === "border"
    ? { x: column * print.repeat, y: 0 }
    : latticePoint(latticeOf(print), column, row);
}

/**
 * Vectors that take a print's endless cloth to itself, none of them 0. Shrinks to one column on.
 *
 * @throws `RepetendError` `E_NUMBER` for an option out of range.
 * @example
 * ```ts
 * import fc from "fast-check";
 * import { border } from "repetend";
 * import { latticeVectors } from "repetend/testing";
 * const print = border({ name: "Hem", repeat: 320, width: 1400, bands: [] });
 * fc.assert(fc.property(latticeVectors(print), ({ x, y }) => x !== 0 && x % 320 === 0 && y === 0));
 * ```
 */
export function latticeVectors(print: Print, options: LatticeVectorsOptions = {}): fc.Arbitrary<Point> {
  aPrint(print, "print");
  vectorsOptions(options, "options");
  const most = readNumber("furthest", options.furthest ?? 6, { atLeast: 1, atMost: 1000, whole: true });
  const steps = fc.integer({ min: -most, max: most });
  const onlyAlong = print.kind === "border";
  return fc.tuple(steps, onlyAlong ? fc.constant(0) : steps).map(([column, row]) => {
    return column === 0 && row === 0 ? latticeVector(print, 1, 0) : latticeVector(print, column, row);
  });
}
