import { readColour } from "../../colour/index.js";
import { RepetendError } from "../../errors.js";
import type { PanelChoice, Sketch, SketchShape } from "../types.js";

/** A choice as people write it, for reports and refusals. */
export function nameChoice(choice: PanelChoice): string {
  return typeof choice === "string" ? choice : `fill ${choice.fill}`;
}

/** The same for all ways to write one choice. */
export function keyOfChoice(choice: PanelChoice): string {
  return typeof choice === "string" ? choice : nameChoice({ fill: readColour(choice.fill).hex });
}

/** Every shape that a choice names, in paint order. */
function findShapes(sketch: Sketch, choice: PanelChoice): readonly SketchShape[] {
  if (typeof choice !== "string") {
    const { hex } = readColour(choice.fill);
    return sketch.shapes.filter((shape) => shape.fill === hex && !shape.blends);
  }
  const name = choice.slice(1);
  if (choice.startsWith("#") && name !== "") return sketch.shapes.filter(({ ids }) => ids.includes(name));
  if (choice.startsWith(".") && name !== "")
    return sketch.shapes.filter(({ classes }) => classes.includes(name));
  throw new RepetendError("E_ID", "a choice of panels that cannot be read", {
    input: sketch.name,
    value: choice,
    accepted: '"#id", ".class" or { fill: "#rrggbb" }',
  });
}

/** The one shape that spans a length; several shapes of a group are refused, since each spans another length. */
export function chooseShape(sketch: Sketch, choice: PanelChoice): SketchShape {
  const found = findShapes(sketch, choice);
  const [shape] = found;
  if (shape === undefined || found.length > 1)
    throw new RepetendError(
      "E_ID",
      `${found.length === 0 ? "no shape" : `${found.length} shapes`} in the sketch`,
      {
        input: sketch.name,
        value: nameChoice(choice),
        accepted: acceptedNames(sketch),
      },
    );
  return shape;
}

/**
 * The shapes that a choice makes panels of, in paint order: those with an area that are filled, or that are meant
 * themselves and not as part of a group. Shading that blends is left above the print.
 *
 * @throws RepetendError `E_ID` when there is none.
 */
export function choosePanels(sketch: Sketch, choice: PanelChoice): readonly SketchShape[] {
  const found = findShapes(sketch, choice);
  const filled = found.filter((shape) => !shape.line && !shape.blends && shape.fill !== "none");
  const panels = filled.length > 0 ? filled : found.filter((shape) => !shape.line && !shape.blends);
  if (panels.length > 0) return panels;
  throw new RepetendError(
    "E_ID",
    found.length > 0 ? "no shape with an area to fill" : "no such panel in the sketch",
    {
      input: sketch.name,
      value: nameChoice(choice),
      accepted: acceptedNames(sketch),
    },
  );
}

/** The shapes that guide a panel: all of a choice, but those that say they belong to another panel. */
export function chooseLines(sketch: Sketch, choice: PanelChoice, panel: SketchShape): readonly SketchShape[] {
  return findShapes(sketch, choice).filter(
    (line) => line.panel === undefined || panel.ids.includes(line.panel),
  );
}

function acceptedNames(sketch: Sketch): string {
  const names = new Set(
    sketch.shapes.flatMap(({ ids, classes }) => [
      ...ids.map((id) => `#${id}`),
      ...classes.map((c) => `.${c}`),
    ]),
  );
  return names.size === 0
    ? "a sketch whose panels have ids, classes or fills"
    : [...names].slice(0, 20).join(", ");
}
