import { type Style, styleValue } from "../css/style.js";
import { placeOf, type SourceElement } from "../xml/source.js";
import { readDrawingLength, type Viewport } from "./length.js";

/** A place or size that an element says of its box, in user units; `undefined` where it says none. */
export function boxLength(
  source: SourceElement,
  style: Style,
  viewport: Viewport,
  name: "x" | "y" | "width" | "height",
): number | undefined {
  const text = styleValue(style, name);
  const whole = name === "x" || name === "width" ? viewport.width : viewport.height;
  return text === "" || text === "auto" ? undefined : readDrawingLength(text, whole, placeOf(source));
}
