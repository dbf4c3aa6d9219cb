import { aNumber, aText, maybe, partsOf } from "../../checks.js";
import { element, type SvgElement, serialise, text, writeNumber } from "../../svg/index.js";
import { aDressed } from "../checks.js";
import type { Dressed } from "./dressed.js";

/** How a dressed sketch is written. */
export interface WriteDressedOptions {
  /** The colourway's name, for the title. */
  readonly colourway?: string;
  /** For a renderer: the size as whole pixels instead of mm, each axis stretched by itself. */
  readonly pixels?: { readonly width: number; readonly height: number };
}

/** Digits of the page, in mm. */
const DIGITS = 4;

const writeOptions = partsOf<WriteDressedOptions>({
  colourway: maybe(aText),
  pixels: maybe(
    partsOf<{ readonly width: number; readonly height: number }>({ width: aNumber, height: aNumber }),
  ),
});

/** A dressed sketch as SVG text, as large as the sketch. Names of prints and panels stand in its description. */
export function writeDressed(dressed: Dressed, options: WriteDressedOptions = {}): string {
  aDressed(dressed, "dressed");
  writeOptions(options, "options");
  const { name, viewBox, width, height, sketchDefs, printDefs, body, report } = dressed;
  const title = options.colourway === undefined ? name : `${name}, ${options.colourway}`;
  const defs = [...sketchDefs, ...printDefs];
  const prints = [...new Set(report.panels.map((panel) => panel.print))].join(", ");
  const box = [viewBox.x, viewBox.y, viewBox.width, viewBox.height]
    .map((value) => writeNumber(value))
    .join(" ");
  const children: readonly SvgElement[] = [
    element("title", {}, [text(title)]),
    element("desc", {}, [text(`${prints === "" ? "Undressed" : `Dressed in ${prints}`}. ${report.says}`)]),
    ...(defs.length > 0 ? [element("defs", {}, defs)] : []),
    ...body,
  ];
  const size: Readonly<Record<string, string>> =
    options.pixels === undefined
      ? { width: `${writeNumber(width, DIGITS)}mm`, height: `${writeNumber(height, DIGITS)}mm` }
      : {
          width: String(options.pixels.width),
          height: String(options.pixels.height),
          preserveAspectRatio: "none",
        };
  return serialise(element("svg", { xmlns: "http://www.w3.org/2000/svg", ...size, viewBox: box }, children));
}
