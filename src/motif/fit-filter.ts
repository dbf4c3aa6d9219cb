import { RepetendError } from "../errors.js";
import type { Affine } from "../geometry/affine.js";
import { type Box, mapBox } from "../geometry/box.js";
import { type SvgElement, writeNumber } from "../svg/index.js";
import { regionOf } from "./effect-region.js";

/** Steps that mean the same in every direction, or whose directions and lengths can be carried along. */
export const CARRIED_STEPS: ReadonlySet<string> = new Set([
  "feBlend",
  "feColorMatrix",
  "feComponentTransfer",
  "feComposite",
  "feDropShadow",
  "feFlood",
  "feGaussianBlur",
  "feMerge",
  "feMorphology",
  "feOffset",
]);

/** What these lengths are where nothing is said: Filter Effects 1, sections 9.8 and following. */
const SHADOW: Readonly<Record<string, string>> = { dx: "2", dy: "2", stdDeviation: "2" };

/**
 * A filter in the user units of the page it comes to: shifts are turned with the cloth, blurs and growths take its
 * scale along each axis of the page, regions become the upright boxes around their images. `box` is that of the element
 * which uses the filter, `fit` leads from its units to the page's.
 *
 * @throws RepetendError `E_FEATURE` for steps that lie on the page's own pixels or axes (noise, convolutions,
 * displacement, light, tiles).
 */
export function fitFilter(
  filter: SvgElement,
  id: string,
  fit: Affine,
  user: SvgElement,
  box: Box | undefined,
): SvgElement {
  const { filterUnits, primitiveUnits, ...kept } = filter.attributes;
  const region = regionOf(filter, filterUnits, user);
  const shares = primitiveUnits === "objectBoundingBox" ? box : undefined;
  const children = filter.children.map((child): SvgElement | (typeof filter.children)[number] =>
    child.type === "element" ? fitStep(child, fit, region, shares) : child,
  );
  const attributes = { ...kept, ...writeBox(mapBox(fit, region)), filterUnits: "userSpaceOnUse", id };
  return { ...filter, attributes, children };
}

function fitStep(step: SvgElement, fit: Affine, region: Box, shares: Box | undefined): SvgElement {
  if (!CARRIED_STEPS.has(step.name))
    throw new RepetendError("E_FEATURE", "a filter has a step that cannot be draped", {
      value: `<${step.name}>`,
      accepted: `${[...CARRIED_STEPS].join(", ")}; or dress the panel flat`,
    });
  const said = step.name === "feDropShadow" ? { ...SHADOW, ...step.attributes } : step.attributes;
  const [wide, high] = shares === undefined ? [1, 1] : [shares.width, shares.height];
  const fitted: Record<string, string> = {};
  if (said.dx !== undefined || said.dy !== undefined) {
    const [dx, dy] = [wide * Number(said.dx ?? 0), high * Number(said.dy ?? 0)];
    fitted.dx = writeNumber(fit.a * dx + fit.c * dy);
    fitted.dy = writeNumber(fit.b * dx + fit.d * dy);
  }
  for (const name of ["stdDeviation", "radius"] as const) {
    const value = said[name];
    if (value === undefined) continue;
    const [one = 0, other = one] = value
      .split(/[\s,]+/)
      .filter((part) => part !== "")
      .map(Number);
    const [x, y] = [wide * one, high * other];
    // The spread of a mapped Gaussian along each axis of the page; exact where the cloth is turned by quarters.
    const across = Math.hypot(fit.a * x, fit.c * y);
    const down = Math.hypot(fit.b * x, fit.d * y);
    fitted[name] = `${writeNumber(across)} ${writeNumber(down)}`;
  }
  if (["x", "y", "width", "height"].some((name) => said[name] !== undefined))
    Object.assign(fitted, writeBox(mapBox(fit, stepRegion(said, region, shares))));
  return { ...step, attributes: { ...said, ...fitted } };
}

/** Where a step works; what it does not say, the filter's region says. */
function stepRegion(said: SvgElement["attributes"], region: Box, shares: Box | undefined): Box {
  const length = (name: "width" | "height"): number =>
    said[name] === undefined ? region[name] : Number(said[name]) * (shares?.[name] ?? 1);
  const start = (name: "x" | "y", size: "width" | "height"): number =>
    said[name] === undefined
      ? region[name]
      : (shares?.[name] ?? 0) + Number(said[name]) * (shares?.[size] ?? 1);
  return {
    x: start("x", "width"),
    y: start("y", "height"),
    width: length("width"),
    height: length("height"),
  };
}

function writeBox({ x, y, width, height }: Box): Record<string, string> {
  return { x: writeNumber(x), y: writeNumber(y), width: writeNumber(width), height: writeNumber(height) };
}
