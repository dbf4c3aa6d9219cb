import { type Attributes, childElements, handedDown, type SvgElement } from "../svg/index.js";
import type { InkUse } from "./types.js";

/** Where a definition or a filter's primitive says a colour. */
const OWN_COLOURS = ["stop-color", "flood-color", "lighting-color"] as const;

const SHAPES: ReadonlySet<string> = new Set([
  "path",
  "rect",
  "circle",
  "ellipse",
  "line",
  "polyline",
  "polygon",
]);

/**
 * The inks of a drawing, most used first, ties by ink. A use is a fill or stroke of a shape, a gradient stop, or a
 * flood. Colours inside of a mask say how much is seen, not what is printed, and do not count.
 */
export function countInks(body: readonly SvgElement[], defs: readonly SvgElement[]): readonly InkUse[] {
  const uses = new Map<string, number>();
  const count = (value: string | undefined) => {
    if (value?.startsWith("#")) uses.set(value, (uses.get(value) ?? 0) + 1);
  };
  const visit = (element: SvgElement, above: Attributes): void => {
    if (element.name === "mask" || element.name === "clipPath") return;
    const attributes = handedDown(element, above);
    if (SHAPES.has(element.name)) {
      if (element.name !== "line") count(attributes.fill);
      count(attributes.stroke);
    }
    const unseen = element.attributes["flood-opacity"] === "0";
    for (const name of OWN_COLOURS) if (!unseen) count(element.attributes[name]);
    for (const child of childElements(element)) visit(child, attributes);
  };
  for (const element of [...defs, ...body]) visit(element, {});
  return [...uses]
    .map(([ink, times]) => ({ ink, uses: times }))
    .sort((one, other) => other.uses - one.uses || (one.ink < other.ink ? -1 : 1));
}
