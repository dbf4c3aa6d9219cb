import { readColour } from "../../colour/read.js";
import { RepetendError } from "../../errors.js";
import { type Style, styleValue } from "../css/style.js";
import { placeOf, type SourceElement } from "../xml/source.js";

/** A colour of a property, `currentColor` looked up. */
export function readColourValue(
  value: string,
  property: string,
  style: Style,
  element: SourceElement,
): { readonly hex: string; readonly alpha: number } {
  const text = /^currentcolor$/i.test(value.trim()) ? styleValue(style, "color") : value;
  // SVG 1.1 lets a colour of a profile follow the sRGB one that stands for it.
  const plain = text.replace(/\s+(?:icc-color|device-[a-z]+)\([^()]*\)\s*$/i, "");
  const where = placeOf(element);
  try {
    return readColour(plain, where);
  } catch (error) {
    if (!(error instanceof RepetendError)) throw error;
    const problem = `${error.problem} (${property} of <${element.name}>)`;
    throw new RepetendError(error.code, problem, {
      where,
      value: text,
      cause: error,
      ...(error.accepted === undefined ? {} : { accepted: error.accepted }),
    });
  }
}

/** An opacity: a number or a percentage, held between 0 and 1. */
export function readOpacity(value: string, property: string, element: SourceElement): number {
  const [, digits, percent] = /^\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)(%?)\s*$/i.exec(value) ?? [];
  if (digits === undefined) {
    throw new RepetendError("E_NUMBER", `${property} is no opacity (in <${element.name}>)`, {
      where: placeOf(element),
      value,
      accepted: "0 to 1, or a percentage",
    });
  }
  return Math.min(1, Math.max(0, Number(digits) / (percent === "%" ? 100 : 1)));
}
