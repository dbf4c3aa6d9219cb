import { RepetendError } from "../../errors.js";
import { measureCurve } from "../../geometry/arc-length.js";
import { cubicsOf } from "../../geometry/cubic-path.js";
import { pathBounds } from "../../geometry/path-bounds.js";
import { mm } from "../../units/index.js";
import { aSketch, scaleOptions } from "../checks.js";
import type { ScaleOptions, Sketch, SketchScale } from "../types.js";
import { chooseShape, nameChoice } from "./select.js";

/**
 * How large a sketch is drawn, from a real length and what spans it.
 *
 * @throws {@link RepetendError} `E_ID` when the sketch has no such shape, or several; `E_SIZE` when either length is
 * not more than 0; `E_UNIT`, `E_NUMBER` for a length that cannot be read.
 * @example
 * ```ts
 * import { readSketch, sketchScale } from "repetend";
 * const sketch = readSketch('<svg xmlns="http://www.w3.org/2000/svg" width="10cm" height="10cm" viewBox="0 0 100 100">' +
 *   '<path id="skirt" d="M30 10H70L90 90H10Z" fill="#ffffff"/></svg>');
 * sketchScale(sketch, { of: "#skirt", is: "80cm" }).ratio; // 10
 * ```
 */
export function sketchScale(sketch: Sketch, options: ScaleOptions): SketchScale {
  aSketch(sketch, "sketch");
  scaleOptions(options, "options");
  const span = mm(options.is);
  const drawn = "of" in options ? drawnSpan(sketch, options) : distance(options.from, options.to);
  if (!(span > 0 && drawn > 0))
    throw new RepetendError("E_SIZE", "a scale needs two lengths above 0", {
      input: sketch.name,
      where: "scale",
      value: `${drawn} units are ${span} mm`,
      ...("of" in options ? { accepted: `${nameChoice(options.of)} with an extent` } : {}),
    });
  const perUnit = span / drawn;
  return { perUnit, ratio: (perUnit * sketch.viewBox.width) / sketch.width, span };
}

function drawnSpan(sketch: Sketch, options: Extract<ScaleOptions, { of: unknown }>): number {
  const shape = chooseShape(sketch, options.of);
  if (options.across === undefined && shape.line)
    return shape.outline.subpaths.reduce((sum, run) => sum + measureCurve(cubicsOf(run)).length, 0);
  const box = pathBounds(shape.outline);
  return box === undefined ? 0 : options.across === "width" ? box.width : box.height;
}

function distance(from: readonly [number, number], to: readonly [number, number]): number {
  return Math.hypot(to[0] - from[0], to[1] - from[1]);
}
