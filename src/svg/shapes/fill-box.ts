import { type Affine, compose, IDENTITY } from "../../geometry/affine.js";
import { type Box, boxAround, mapBox } from "../../geometry/box.js";
import { pathBounds, pathOfShape, transformPath } from "../../geometry/path.js";
import { type Style, styleValue } from "../css/style.js";
import { GRAPHICS, SHAPES } from "../elements.js";
import { embeddedBox, readEmbedded } from "../images/embedded.js";
import { isChosen, shownChildren } from "../place/chosen.js";
import { type Place, type Reading, styleOf } from "../place/place.js";
import { lookUpUsed, useShift } from "../place/use.js";
import { refuse, type SourceElement, textIn } from "../xml/source.js";
import { readGeometry } from "./geometry.js";

/** The map of an element into its parent; handed in, since it may ask for a box again. */
type MapOf = (element: SourceElement, style: Style, place: Place, reading: Reading) => Affine;

/** Where something is measured. */
interface Measuring {
  readonly place: Place;
  readonly reading: Reading;
  readonly mapOf: MapOf;
}

/**
 * The box of what an element fills, seen or not, without strokes and clips, in its own user units: SVG 2, section
 * 8.10, "Bounding boxes". `undefined` for an element that holds nothing.
 *
 * @throws RepetendError `E_FEATURE` where viewers do not agree: viewports, and a `use` that moves what it brings in.
 */
export function fillBox(
  element: SourceElement,
  style: Style,
  place: Place,
  reading: Reading,
  mapOf: MapOf,
): Box | undefined {
  const { e, f } = element.svgName === "use" ? useShift(element, style, place.viewport) : IDENTITY;
  if (e !== 0 || f !== 0) throw unsure("a use with x or y", element);
  // Where it stands is not known yet, so numbers are kept as fine as they can be.
  return measure(element, style, IDENTITY, { place: { ...place, map: undefined }, reading, mapOf });
}

/** The box in the units that `map` leads to. */
function measure(element: SourceElement, style: Style, map: Affine, measuring: Measuring): Box | undefined {
  const { svgName } = element;
  const { place, reading } = measuring;
  reading.count(element);
  if (SHAPES.has(svgName)) {
    const geometry = readGeometry(element, style, place, reading);
    const path = geometry === undefined ? undefined : pathOfShape(svgName, geometry);
    return path === undefined ? undefined : pathBounds(transformPath(path, map));
  }
  switch (svgName) {
    case "g":
    case "a":
    case "switch": {
      const shown = shownChildren(element).filter((child) => child.svgName !== "symbol");
      return measureAll(shown, style, map, measuring);
    }
    case "image":
      if ((element.attributes.get("href") ?? "") === "") return undefined;
      return mapBox(map, embeddedBox(element, style, place.viewport, readEmbedded(element).header));
    case "use": {
      const used = lookUpUsed(element, reading);
      const moved = compose(map, useShift(element, style, place.viewport));
      return used === undefined ? undefined : measureAll([used.target], style, moved, measuring);
    }
    case "text":
      if (textIn(element).trim() === "") return undefined;
      throw refuse("E_TEXT", "a box is measured around text", element, { accepted: "its outlines as paths" });
    default:
      throw unsure(`a box around <${element.name}>`, element);
  }
}

function measureAll(
  elements: readonly SourceElement[],
  above: Style,
  map: Affine,
  measuring: Measuring,
): Box | undefined {
  const { place, reading, mapOf } = measuring;
  const boxes = elements.flatMap((element) => {
    if (!GRAPHICS.has(element.svgName) || !isChosen(element)) return [];
    const style = styleOf(element, above, reading);
    if (styleValue(style, "display").toLowerCase() === "none") return [];
    return measure(element, style, compose(map, mapOf(element, style, place, reading)), measuring) ?? [];
  });
  return boxAround(boxes);
}

function unsure(what: string, element: SourceElement): Error {
  return refuse("E_FEATURE", "viewers do not agree on the box that a transform is measured from", element, {
    value: what,
    accepted: "transform-box: view-box",
  });
}
