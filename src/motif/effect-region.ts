import type { Box } from "../geometry/box.js";
import type { SvgElement } from "../svg/tree.js";
import { elementBounds } from "./element-bounds.js";

/** The region of a mask or filter, in the units of the element that uses it. */
export function regionOf(holder: SvgElement, units: string | undefined, user: SvgElement): Box {
  const number = (name: string, usual: number): number => Number(holder.attributes[name] ?? usual);
  const said = {
    x: number("x", -0.1),
    y: number("y", -0.1),
    width: number("width", 1.2),
    height: number("height", 1.2),
  };
  const box = units === "userSpaceOnUse" ? undefined : elementBounds(user);
  if (box === undefined) return said;
  return {
    x: box.x + said.x * box.width,
    y: box.y + said.y * box.height,
    width: said.width * box.width,
    height: said.height * box.height,
  };
}
