import { check, maybe, partsOf } from "../../checks.js";
import { anId } from "../../svg/checks.js";
import { element, serialise, writeNumber } from "../../svg/index.js";
import { aPrint } from "../checks.js";
import type { Print } from "../types.js";
import { drawLayers } from "./draw.js";
import { MM_DIGITS } from "./field.js";
import { layersInWindow, rectangleOf } from "./layers.js";

/** How a print becomes a paint. */
export interface PatternOptions {
  /** The id of the `<pattern>`: letters, digits, and any of `_ . : -`. */
  readonly id: string;
  /** User units for one mm where the paint is used, 0.000001 to 1000000. Default 1. */
  readonly unitsPerMm?: number;
}

const someUnits = check(
  (value) => typeof value === "number" && value >= 1e-6 && value <= 1e6,
  "0.000001 to 1000000",
  "E_NUMBER",
);

/**
 * The print as SVG 2 paint: a `<defs>` with one `<pattern>` of the rectangle that repeats by itself, for use as
 * `fill="url(#id)"`. Exact in browsers; some renderers round a pattern's period to whole pixels, so files for the mill
 * are made from the field instead. A border's pattern leaves one cloth width empty above and below the cloth; do not paint
 * further than that.
 *
 * @throws {@link RepetendError} `E_ARGUMENT` for an id that no reference would find, `E_NUMBER` for `unitsPerMm`.
 * @example
 * ```ts
 * import { patternPaint, straight } from "repetend";
 * const print = straight({ name: "Plain", width: 100, height: 100, ground: "#f2ead8", motifs: [] });
 * patternPaint(print, { id: "plain" }).includes("<pattern"); // true
 * ```
 */
export function patternPaint(print: Print, options: PatternOptions): string {
  aPrint(print, "print");
  partsOf<PatternOptions>({ id: anId, unitsPerMm: maybe(someUnits) })(options, "options");
  const { width, height } = rectangleOf(print);
  const scale = writeNumber(options.unitsPerMm ?? 1, 9);
  const drawn = drawLayers(layersInWindow(print, { x: 0, y: 0, width, height }), {
    window: { x: 0, y: 0, width, height },
    digits: MM_DIGITS,
    scope: `${options.id}-`,
  });
  // A pattern must repeat both ways; a border's does so one empty cloth width away. Renderers paint a tile as pixels
  // first, so a period far beyond the cloth would be refused by some.
  const period = print.kind === "border" ? height * 2 : height;
  const attributes = {
    id: options.id,
    patternUnits: "userSpaceOnUse",
    width: writeNumber(width, MM_DIGITS),
    height: writeNumber(period, MM_DIGITS),
    ...(scale === "1" ? {} : { patternTransform: `scale(${scale})` }),
  };
  return serialise(element("defs", {}, [...drawn.defs, element("pattern", attributes, drawn.body)]));
}
