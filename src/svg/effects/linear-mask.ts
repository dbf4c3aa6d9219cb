import { hexToLinear, readHex, writeHex } from "../../colour/spaces.js";
import { type Attributes, childElements, handedDown } from "../painted/elements.js";
import { element, type SvgElement } from "../tree.js";
import { writeNumber } from "../values/number.js";
import { refuse, type SourceElement } from "../xml/source.js";

/**
 * The content of a mask whose luminance is measured in linear light (`color-interpolation="linearRGB"`: CSS Masking 1,
 * section 8), in colours that say the same as written: renderers measure those only. What lies over one another is
 * mixed as written before that, so nothing translucent may lie over anything.
 *
 * @throws RepetendError `E_FEATURE` for what cannot be said in colours.
 */
export function inLinearLight(content: readonly SvgElement[], mask: SourceElement): readonly SvgElement[] {
  const told = { translucent: false };
  const converted = content.map((one) => convert(one, mask, told));
  if (told.translucent && countPaints(content, {}) > 1) {
    throw cannot(mask, "translucent things over others");
  }
  return converted;
}

const COLOURS = ["fill", "stroke", "stop-color"];
const TRANSLUCENCE = ["opacity", "fill-opacity", "stroke-opacity", "stop-opacity", "mask"];

function convert(one: SvgElement, mask: SourceElement, told: { translucent: boolean }): SvgElement {
  const { name, attributes } = one;
  // A mask inside measures its own light.
  if (name === "mask" || name === "clipPath") return one;
  if (name === "image") throw cannot(mask, "a picture");
  if (attributes.filter !== undefined) throw cannot(mask, "a filter");
  if (attributes.style?.includes("mix-blend-mode")) throw cannot(mask, "a blend mode");
  if (TRANSLUCENCE.some((property) => attributes[property] !== undefined)) told.translucent = true;
  const children = /Gradient$/.test(name) ? divideStops(childElements(one)) : childElements(one);
  const colours = COLOURS.flatMap((property) => {
    const value = attributes[property];
    return value?.startsWith("#") ? [[property, linearHex(value)] as const] : [];
  });
  return element(
    name,
    { ...attributes, ...Object.fromEntries(colours) },
    children.map((child) => convert(child, mask, told)),
  );
}

/** The colour whose parts, as written, are the parts of the light of another. */
const linearHex = (hex: string): string => writeHex(hexToLinear(hex));

/** Steps between two stops: what is straight between sixteen of them is off by less than a level of 255. */
const STEPS = 16;

/** Stops for a whole gradient at most; where there are more than this the gaps are narrow as they are. */
const MOST_STOPS = 4096;

/** A gradient runs straight in the colours as written, and so in curves in their light. */
function divideStops(stops: readonly SvgElement[]): readonly SvgElement[] {
  const steps = Math.max(1, Math.min(STEPS, Math.floor(MOST_STOPS / stops.length)));
  return stops.flatMap((stop, index) => {
    const next = stops[index + 1];
    const differ = (name: string): boolean => next?.attributes[name] !== stop.attributes[name];
    if (next === undefined || !differ("stop-color") || !differ("offset")) return [stop];
    const between = Array.from({ length: steps - 1 }, (_, k) => mixStops(stop, next, (k + 1) / steps));
    return [stop, ...between];
  });
}

function mixStops(one: SvgElement, other: SvgElement, share: number): SvgElement {
  const mix = (from: number, to: number): number => from + (to - from) * share;
  const number = (stop: SvgElement, name: string): number => Number(stop.attributes[name] ?? 1);
  const colour = (stop: SvgElement) => readHex(stop.attributes["stop-color"] ?? "#000000");
  const [from, to] = [colour(one), colour(other)];
  const opacity = writeNumber(mix(number(one, "stop-opacity"), number(other, "stop-opacity")), 4);
  return element("stop", {
    offset: writeNumber(mix(number(one, "offset"), number(other, "offset")), 6),
    "stop-color": writeHex({ r: mix(from.r, to.r), g: mix(from.g, to.g), b: mix(from.b, to.b) }),
    ...(opacity === "1" ? {} : { "stop-opacity": opacity }),
  });
}

/** How many areas and lines are painted, those of patterns too. */
function countPaints(elements: readonly SvgElement[], above: Attributes): number {
  return elements.reduce((sum, one) => {
    if (one.name === "mask" || one.name === "clipPath") return sum;
    const attributes = handedDown(one, above);
    if (one.name === "g" || one.name === "pattern") return sum + countPaints(childElements(one), attributes);
    if (/Gradient$/.test(one.name)) return sum;
    const painted = [attributes.fill ?? "#000000", attributes.stroke ?? "none"];
    return sum + painted.filter((paint) => paint !== "none").length;
  }, 0);
}

function cannot(mask: SourceElement, value: string): Error {
  return refuse("E_FEATURE", "a mask in linear light holds what only a renderer could measure", mask, {
    value,
    accepted: "opaque shapes, gradients and patterns, or one translucent shape; or color-interpolation: sRGB",
  });
}
