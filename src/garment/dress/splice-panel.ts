import { type Affine, invert } from "../../geometry/affine.js";
import { writePath } from "../../geometry/write-path.js";
import { element, type SvgElement, type SvgNode, writeMatrix } from "../../svg/index.js";
import type { SketchShape } from "../types.js";

/** A print for one shape of a sketch. */
export interface PanelPrint {
  readonly shape: SketchShape;
  readonly id: string;
  /** In user units of the sketch. */
  readonly body: readonly SvgElement[];
  /** Whether the print paints the whole panel, so that the panel's own fill below would only fringe its edge. */
  readonly covers: boolean;
}

/** What is done to a shape as a whole, the print included. */
const EFFECTS = ["transform", "opacity", "style", "clip-path", "mask", "filter"] as const;

/** What inherited attributes are where nothing is said: motifs are written for such surroundings. */
const INITIAL: Readonly<Record<string, string>> = {
  fill: "#000000",
  "fill-opacity": "1",
  "fill-rule": "nonzero",
  stroke: "none",
  "stroke-opacity": "1",
  "stroke-width": "1",
  "stroke-linecap": "butt",
  "stroke-linejoin": "miter",
  "stroke-miterlimit": "4",
  "stroke-dasharray": "none",
  "stroke-dashoffset": "0",
  "paint-order": "normal",
  "shape-rendering": "auto",
};

/** The clip that cuts a print at its panel, in user units of the sketch. */
export function clipOf(id: string, shape: SketchShape, digits: number): SvgElement {
  const d = writePath(shape.outline, digits);
  return element("clipPath", { id: `${id}-clip` }, [
    element("path", { ...(shape.evenOdd ? { "clip-rule": "evenodd" } : {}), d }),
  ]);
}

/**
 * The body of a sketch with prints laid into its panels: below the panel's own outline, above its own fill, in its
 * place among everything else, so that stitching and shading above it stay above.
 */
export function splicePanels(
  body: readonly SvgElement[],
  prints: readonly PanelPrint[],
  digits: number,
): readonly SvgElement[] {
  const byAddress = new Map(prints.map((print) => [print.shape.address.join("."), print]));
  const around = new Set(
    prints.flatMap(({ shape }) => shape.address.map((_, k) => shape.address.slice(0, k + 1).join("."))),
  );
  const walk = (
    one: SvgElement,
    address: string,
    inherited: Readonly<Record<string, string>>,
  ): SvgElement => {
    const print = byAddress.get(address);
    if (print !== undefined) return dressShape(one, print, inherited, digits);
    if (!around.has(address)) return one;
    const here = { ...inherited, ...one.attributes };
    const children = one.children.map(
      (child, index): SvgNode =>
        child.type === "element" ? walk(child, `${address}.${index}`, here) : child,
    );
    return { ...one, children };
  };
  return body.map((one, index) => walk(one, String(index), {}));
}

function dressShape(
  shape: SvgElement,
  print: PanelPrint,
  inherited: Readonly<Record<string, string>>,
  digits: number,
): SvgElement {
  const effects: Record<string, string> = {};
  const plain: Record<string, string> = {};
  for (const [name, value] of Object.entries(shape.attributes)) {
    if ((EFFECTS as readonly string[]).includes(name)) effects[name] = value;
    else plain[name] = value;
  }
  const all = { ...inherited, ...plain };
  const reset = Object.fromEntries(
    Object.entries(INITIAL).filter(
      ([name, value]) => inherited[name] !== undefined && inherited[name] !== value,
    ),
  );
  // The print is in user units of the sketch; inside the panel's own place they are undone.
  const back = writeMatrix(invertOf(print.shape.map), digits + 3);
  const filled = !print.covers && (all.fill ?? "#000000") !== "none";
  const stroked = (all.stroke ?? "none") !== "none";
  return element("g", { "data-repetend-panel": print.id, ...effects }, [
    ...(filled ? [element(shape.name, { ...plain, stroke: "none" })] : []),
    element(
      "g",
      {
        "data-repetend-print": print.id,
        ...reset,
        ...(back === "" ? {} : { transform: back }),
        "clip-path": `url(#${print.id}-clip)`,
      },
      print.body,
    ),
    ...(stroked ? [element(shape.name, { ...plain, fill: "none" })] : []),
  ]);
}

function invertOf(map: Affine): Affine {
  // A drawing whose transforms flatten the plane was refused on reading.
  return invert(map) ?? map;
}
