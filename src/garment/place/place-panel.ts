import { RepetendError } from "../../errors.js";
import type { Print } from "../../repeat/types.js";
import type { PanelOptions } from "../options.js";
import { keyOfChoice, nameChoice } from "../sketch/select.js";
import type { PanelChoice, SketchShape } from "../types.js";
import { placeAlone } from "./alone.js";
import { placeContinued } from "./continued.js";
import { placeMirrored } from "./mirrored.js";
import type { PlacedPanel, Placing } from "./placed-panel.js";

/** Places a print on one shape, the `index`-th of those that the options name. */
export function placePanel(
  placing: Placing,
  name: string,
  shape: SketchShape,
  index: number,
  print: Print,
  options: PanelOptions,
): PlacedPanel {
  if (options.mirrors !== undefined && options.continues !== undefined)
    throw new RepetendError("E_LAYOUT", "a panel mirrors another or continues it, not both", { where: name });
  if (options.mirrors !== undefined)
    return placeMirrored(placing, name, shape, lookBack(placing, name, options.mirrors, index), options);
  const { continues } = options;
  if (continues !== undefined) {
    const named = typeof continues === "object" && "panel" in continues ? continues : undefined;
    const choice = typeof continues === "object" && "panel" in continues ? continues.panel : continues;
    const other = lookBack(placing, name, choice, index);
    return placeContinued(placing, name, shape, other, named, options.print ?? other.print, options);
  }
  return placeAlone(placing, name, shape, print, options);
}

function lookBack({ earlier }: Placing, where: string, choice: PanelChoice, index: number): PlacedPanel {
  const panels = earlier.get(keyOfChoice(choice)) ?? [];
  const found = panels[index] ?? panels[0];
  if (found !== undefined) return found;
  throw new RepetendError("E_LAYOUT", "a panel refers to one that is not listed before it", {
    where,
    value: nameChoice(choice),
    accepted: [...earlier.keys()].join(", ") || "a panel that is listed before",
  });
}
