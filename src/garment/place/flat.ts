import { type Note, RepetendError } from "../../errors.js";
import { type Affine, applyTo, compose, translation } from "../../geometry/affine.js";
import { pathBounds } from "../../geometry/path-bounds.js";
import type { Print } from "../../repeat/types.js";
import { mm } from "../../units/index.js";
import type { PanelOptions } from "../options.js";
import { cutEdges } from "./edges.js";
import { readAlong, readLevel } from "./level.js";
import { cornersInFrame, type PanelFrame } from "./panel-frame.js";

/** An edge that bends by less than this, in real mm, is straight to the eye of a cutter. */
const STRAIGHT = 1;

/** From the print, in mm, to the upright frame of the panel, where nothing is draped: a shift. */
export function placeFlat(frame: PanelFrame, print: Print, options: PanelOptions): Affine {
  const { pin } = options;
  if (pin !== undefined) {
    const at = applyTo(frame.fromSketch, { x: pin.at[0], y: pin.at[1] });
    return translation(at.x - mm(pin.print[0]), at.y - mm(pin.print[1]));
  }
  const { box } = frame;
  const { side, level } = readLevel(frame, print, options);
  const edge = side === "bottom" ? box.y + box.height : box.y;
  return translation(box.x + box.width / 2 - readAlong(frame, print, options), edge - level);
}

/** The map of a flat panel from the print to the sketch. */
export function flatToSketch(frame: PanelFrame, placed: Affine): Affine {
  return compose(frame.toSketch, placed);
}

/** Says when a band lies straight along an edge that is not: it meets the edge's outermost point only. */
export function noteCurvedEdge(frame: PanelFrame, print: Print, options: PanelOptions): readonly Note[] {
  if (options.pin !== undefined || (options.band === undefined && options.level === undefined)) return [];
  const { side } = readLevel(frame, print, options);
  const bend = measureBend(frame, options, side);
  if (bend < STRAIGHT) return [];
  return [
    {
      level: "warning",
      code: "N_EDGE_BENDS",
      where: frame.name,
      message: `the edge bends by ${bend.toFixed(1)} mm; the print lies straight and meets its outermost point (drape follows it)`,
    },
  ];
}

function measureBend(frame: PanelFrame, options: PanelOptions, side: "top" | "bottom"): number {
  const given = cornersInFrame(options, frame);
  try {
    const edge = cutEdges(frame.outline, given, frame.name)[side];
    return pathBounds({ subpaths: [edge] })?.height ?? 0;
  } catch (error) {
    // A panel without four corners has no edge to measure, unless somebody said where they are.
    if (given === undefined && error instanceof RepetendError) return 0;
    throw error;
  }
}
