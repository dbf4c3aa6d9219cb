import { aNumber, aText, maybe, oneOf, partsOf, tableOf } from "../../checks.js";
import { someElements } from "../../svg/checks.js";
import { element, type SvgElement, serialise, text, writeNumber } from "../../svg/index.js";
import type { DrawnLayers } from "./draw.js";

/** The root of a drawing that repetend writes: sizes with a unit, and a viewBox in the same numbers. */
export interface DocumentOptions {
  readonly width: number;
  readonly height: number;
  /** "mm" for drawings, "" for pixels. */
  readonly unit: "mm" | "";
  readonly digits: number;
  readonly title: string;
  readonly description: string;
  /** Own data, written as `data-repetend-…`. */
  readonly data?: Readonly<Record<string, string>>;
  /** Put on the root, for example `shape-rendering`. */
  readonly attributes?: Readonly<Record<string, string>>;
}

const documentParts = partsOf<DrawnLayers>({ defs: someElements, body: someElements });
const documentOptions = partsOf<DocumentOptions>({
  width: aNumber,
  height: aNumber,
  unit: oneOf("mm", ""),
  digits: aNumber,
  title: aText,
  description: aText,
  data: maybe(tableOf(aText)),
  attributes: maybe(tableOf(aText)),
});

/** A whole SVG document as text: one title and description, definitions, and what is painted. */
export function writeDocument(drawn: DrawnLayers, options: DocumentOptions): string {
  documentParts(drawn, "drawn");
  documentOptions(options, "options");
  const width = writeNumber(options.width, options.digits);
  const height = writeNumber(options.height, options.digits);
  const data = Object.entries(options.data ?? {}).map(([key, value]) => [`data-repetend-${key}`, value]);
  const children: readonly SvgElement[] = [
    element("title", {}, [text(options.title)]),
    element("desc", {}, [text(options.description)]),
    ...(drawn.defs.length > 0 ? [element("defs", {}, drawn.defs)] : []),
    ...drawn.body,
  ];
  const attributes = {
    xmlns: "http://www.w3.org/2000/svg",
    width: `${width}${options.unit}`,
    height: `${height}${options.unit}`,
    viewBox: `0 0 ${width} ${height}`,
    ...options.attributes,
    ...Object.fromEntries(data),
  };
  return serialise(element("svg", attributes, children));
}
