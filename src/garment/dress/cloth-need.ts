import { compose, invert } from "../../geometry/affine.js";
import type { Box } from "../../geometry/box.js";
import { transformPath } from "../../geometry/cubic-path.js";
import { pathBounds } from "../../geometry/path-bounds.js";
import type { PlacedPanel } from "../place/placed-panel.js";

/** How far a panel reaches beyond a cloth, in mm. */
export interface BeyondCloth {
  /** Beyond which selvedge: the artwork's top or bottom, or for an all-over print either. */
  readonly selvedge: "top" | "bottom" | "either";
  readonly by: number;
}

/** Rounding of outlines, in mm; less is no cloth. */
const CLOTH_TOLERANCE = 0.01;

/** What a panel needs beyond the cloth that there is. */
export function measureBeyond(panel: PlacedPanel, clothWidth: number | undefined): readonly BeyondCloth[] {
  const { print } = panel;
  const need = printBounds(panel);
  if (need === undefined) return [];
  if (print.kind === "border") {
    const over: readonly BeyondCloth[] = [
      { selvedge: "top", by: -need.y },
      { selvedge: "bottom", by: need.y + need.height - print.width },
    ];
    return over.filter(({ by }) => by > CLOTH_TOLERANCE);
  }
  if (clothWidth === undefined) return [];
  const across = print.grain === "y" ? need.width : need.height;
  return across - clothWidth > CLOTH_TOLERANCE ? [{ selvedge: "either", by: across - clothWidth }] : [];
}

/** The part of the print that a panel takes, in mm. */
export function printBounds(panel: PlacedPanel): Box | undefined {
  if (panel.draped !== undefined) return panel.draped.window;
  const back = panel.flat && invert(panel.flat);
  if (back === undefined) return undefined;
  const mirror = panel.mirror && invert(panel.mirror);
  return pathBounds(transformPath(panel.shape.outline, mirror ? compose(back, mirror) : back));
}
