import type { Note } from "../../errors.js";
import { applyTo, type Point, turning } from "../../geometry/affine.js";
import type { Box } from "../../geometry/box.js";
import { decideFolds, type FoldDecision } from "../../geometry/decide-folds.js";
import { findFolds } from "../../geometry/folds.js";
import type { Print } from "../../repeat/types.js";
import type { PanelOptions } from "../options.js";
import type { SketchShape } from "../types.js";
import { type Draped, placeDraped, type SidePhase } from "./draped.js";
import { flatToSketch, noteCurvedEdge, placeFlat } from "./flat.js";
import { framePanel, type PanelFrame } from "./panel-frame.js";
import type { PlacedPanel, Placing } from "./placed-panel.js";

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
  const notes = noteFolds(frame, draped);
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

/** Folds that were found; else those that could not be ruled out. */
function noteFolds(frame: PanelFrame, draped: Draped): readonly Note[] {
  const where = frame.name;
  const say = ({ x, y }: Point): string => {
    const at = applyTo(frame.toSketch, { x, y });
    return `${at.x.toFixed(2)}, ${at.y.toFixed(2)} of the sketch`;
  };
  const found = findFolds(draped.map, shrink(draped)).map(({ at }) => at);
  const { folded, open } = found.length > 0 ? NOTHING : decideFolds(draped.panel);
  const proven = [...found, ...folded.slice(0, 1).map((cell) => middleOf(draped, cell))];
  if (proven.length > 0)
    return proven.map((at): Note => {
      const message = `the draped print folds over itself near ${say(at)}`;
      return { level: "warning", code: "N_FOLD", where, message };
    });
  const [undecided] = open;
  if (undecided === undefined) return [];
  const size = Math.max(undecided.width * draped.window.width, undecided.height * draped.window.height);
  const message =
    `a fold smaller than ${size.toFixed(1)} mm of cloth could not be ruled out near ` +
    `${say(middleOf(draped, undecided))}${open.length > 1 ? `, nor in ${open.length - 1} more such places` : ""}`;
  return [{ level: "info", code: "N_FOLD_OPEN", where, message }];
}

const NOTHING: FoldDecision = { folded: [], open: [] };

function middleOf({ panel, bias }: Draped, { x, y, width, height }: Box): Point {
  const at = panel.map(x + width / 2, y + height / 2);
  return applyTo(turning(-bias), at);
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
