import { RepetendError } from "../../errors.js";
import { type Affine, applyTo, compose, type Point, scaling, turning } from "../../geometry/affine.js";
import type { Box } from "../../geometry/box.js";
import { type CubicPath, transformPath } from "../../geometry/cubic-path.js";
import { pathBounds } from "../../geometry/path-bounds.js";
import type { Print } from "../../repeat/types.js";
import type { PanelOptions, Spot } from "../options.js";
import type { Edge, SketchScale, SketchShape } from "../types.js";
import { type Corners, cutEdges, type PanelEdges } from "./edges.js";

/**
 * A panel seen as the print lies on it: turned so that the print is upright, in real mm. Between the print and this
 * frame there is only a shift, or a drape.
 */
export interface PanelFrame {
  readonly name: string;
  readonly shape: SketchShape;
  /** Radians, clockwise on the page, by which the print is turned. */
  readonly turn: number;
  readonly outline: CubicPath;
  readonly box: Box;
  /** From user units of the sketch to the frame, and back. */
  readonly fromSketch: Affine;
  readonly toSketch: Affine;
}

/** Lays the frame of a panel. */
export function framePanel(
  name: string,
  shape: SketchShape,
  scale: SketchScale,
  print: Print,
  options: PanelOptions,
): PanelFrame {
  const turn = readTurn(name, shape, print, options);
  const fromSketch = compose(scaling(scale.perUnit), turning(-turn));
  const toSketch = compose(turning(turn), scaling(1 / scale.perUnit));
  const outline = transformPath(shape.outline, fromSketch);
  const box = pathBounds(outline);
  if (box === undefined || !(box.width > 0 && box.height > 0))
    throw new RepetendError("E_SIZE", "a panel without an extent", { where: name });
  return { name, shape, turn, outline, box, fromSketch, toSketch };
}

const QUARTER = Math.PI / 2;

/** By how much the print is turned, in radians. */
function readTurn(name: string, shape: SketchShape, print: Print, options: PanelOptions): number {
  const { grain } = options;
  if (typeof grain === "number") {
    if (!Number.isFinite(grain))
      throw new RepetendError("E_NUMBER", "the grain is turned by a finite angle", {
        where: name,
        value: String(grain),
      });
    return (grain * Math.PI) / 180;
  }
  const upright = uprightTurn(options);
  if (grain === undefined) return upright;
  const { from, to } = chordOf(cutEdges(shape.outline, readCorners(options, shape), name), grain);
  const chord = Math.atan2(to.y - from.y, to.x - from.x);
  // The warp lies along the artwork's own axis; the turn nearest to the upright one keeps the print the right way up.
  const turn = chord - (print.grain === "y" ? QUARTER : 0);
  return turn + Math.round((upright - turn) / Math.PI) * Math.PI;
}

/** The quarter turn that brings the bottom of a print to a side edge; upright for top and bottom. */
function uprightTurn({ band, level, edge }: PanelOptions): number {
  if (band === undefined && level === undefined) return 0;
  return edge === "left" ? QUARTER : edge === "right" ? -QUARTER : 0;
}

/** Corners as the options give them, or the panel itself; in user units of the sketch. */
export function readCorners({ drape }: PanelOptions, shape: SketchShape): Corners | undefined {
  const corners = typeof drape === "object" ? drape.corners : undefined;
  if (corners === undefined) return shape.corners;
  const point = ([x, y]: Spot): Point => ({ x, y });
  return [point(corners[0]), point(corners[1]), point(corners[2]), point(corners[3])];
}

/** The same as they lie in the frame: a print that is turned by quarters has another corner at its top left. */
export function cornersInFrame(options: PanelOptions, frame: PanelFrame): Corners | undefined {
  const corners = readCorners(options, frame.shape);
  if (corners === undefined) return undefined;
  const quarters = Math.round(frame.turn / QUARTER);
  const at = (index: number): Point => {
    const place = (((index + quarters) % 4) + 4) % 4;
    return applyTo(frame.fromSketch, corners[place as 0 | 1 | 2 | 3]);
  };
  return [at(0), at(1), at(2), at(3)];
}

/** The two ends of an edge, top to bottom or left to right. */
export function chordOf(edges: PanelEdges, edge: Edge): { readonly from: Point; readonly to: Point } {
  const { points } = edges[edge];
  const at = (index: number): number => points.at(index) ?? Number.NaN;
  return { from: { x: at(0), y: at(1) }, to: { x: at(-2), y: at(-1) } };
}

const OUTWARDS: Readonly<Record<Edge, Point>> = {
  top: { x: 0, y: -1 },
  right: { x: 1, y: 0 },
  bottom: { x: 0, y: 1 },
  left: { x: -1, y: 0 },
};

/** Which side of the upright print the top of a panel is, or is nearest to: a print without bands lies along any edge. */
export function topOf(frame: PanelFrame): "top" | "bottom" {
  return applyTo(turning(-frame.turn), OUTWARDS.top).y > Math.SQRT1_2 - 1e-9 ? "bottom" : "top";
}

/**
 * Which side of the upright print an edge of the sketch is.
 *
 * @throws RepetendError `E_LAYOUT` when bands run towards the edge instead of along it.
 */
export function sideOf(frame: PanelFrame, edge: Edge): "top" | "bottom" {
  const { y } = applyTo(turning(-frame.turn), OUTWARDS[edge]);
  if (Math.abs(y) > Math.SQRT1_2 - 1e-9) return y > 0 ? "bottom" : "top";
  throw new RepetendError("E_LAYOUT", `bands run towards the ${edge} edge, not along it`, {
    where: frame.name,
    value: `grain ${((frame.turn * 180) / Math.PI).toFixed(1)}`,
    accepted: `a grain that lets the print lie along the ${edge} edge`,
  });
}
