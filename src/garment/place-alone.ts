import type { Note } from "../errors.js";
import { applyTo } from "../geometry/affine.js";
import { findFolds } from "../geometry/folds.js";
import type { Print } from "../repeat/types.js";
import type { PanelOptions } from "./options.js";
import { framePanel } from "./panel-frame.js";
import { type Draped, placeDraped, type SidePhase } from "./place-draped.js";
import { flatToSketch, noteCurvedEdge, placeFlat } from "./place-flat.js";
import type { PlacedPanel, Placing } from "./placed-panel.js";
import type { SketchShape } from "./types.js";

/** Cloth for one length of an edge that can still be eased in: common practice allows about 5 per cent. */
const SEWABLE = 0.95;

/** Places a print on a panel that looks at no other; `phase` may come from a neighbour. */
export function placeAlone(
  { sketch, scale }: Placing,
  name: string,
  shape: SketchShape,
  print: Print,
  options: PanelOptions,
  phase?: SidePhase,
): PlacedPanel {
  const frame = framePanel(name, shape, scale, print, options);
  const base = { name, shape, print, options, frame, mirror: undefined, mirrored: undefined };
  if (options.drape === undefined || options.drape === false) {
    const flat = flatToSketch(frame, placeFlat(frame, print, options));
    return { ...base, flat, draped: undefined, notes: noteCurvedEdge(frame, print, options) };
  }
  const draped = placeDraped(sketch, frame, print, options, phase);
  const notes = findFolds(draped.map, shrink(draped)).map((fold): Note => {
    const { x, y } = applyTo(frame.toSketch, fold.at);
    return {
      level: "warning",
      code: "N_FOLD",
      where: name,
      message: `the draped print folds over itself near ${x.toFixed(2)}, ${y.toFixed(2)} of the sketch`,
    };
  });
  const stretched = (["top", "bottom"] as const)
    .filter((edge) => draped.gathers[edge] < SEWABLE)
    .map((edge): Note => {
      const missing = ((1 - draped.gathers[edge]) * 100).toFixed(0);
      const message = `along the ${edge} edge ${missing} % of the cloth is missing: the print is stretched there; hold that edge`;
      return { level: "warning", code: "N_STRETCH", where: name, message };
    });
  const flat = draped.affine && flatToSketch(frame, draped.affine);
  return { ...base, flat, draped, notes: [...notes, ...stretched] };
}

/** The print's window, a hair's breadth inside: corners themselves may have an angle of 0. */
function shrink({ window }: Draped): Draped["window"] {
  const inset = 1e-3 * Math.min(window.width, window.height);
  return {
    x: window.x + inset,
    y: window.y + inset,
    width: window.width - 2 * inset,
    height: window.height - 2 * inset,
  };
}
