import {
  type Affine,
  applyTo,
  compose,
  invert,
  type Point,
  scaling,
  translation,
  turning,
} from "../../geometry/affine.js";
import { pathBounds } from "../../geometry/path-bounds.js";
import type { Print } from "../../repeat/types.js";
import type { PanelOptions } from "../options.js";
import type { Edge, SketchShape } from "../types.js";
import { placeAlone } from "./alone.js";
import { cutEdges } from "./edges.js";
import { chordOf, framePanel, type PanelFrame, readCorners } from "./panel-frame.js";
import type { PlacedPanel, Placing } from "./placed-panel.js";

/** Places a print on a panel so that phase and level run on from another, across their seam. */
export function placeContinued(
  placing: Placing,
  name: string,
  shape: SketchShape,
  other: PlacedPanel,
  named: { readonly from: Edge; readonly to: Edge } | undefined,
  print: Print,
  options: PanelOptions,
): PlacedPanel {
  const {
    panel: _panel,
    print: _print,
    continues: _continues,
    mirrors: _mirrors,
    pin: _pin,
    ...theirs
  } = other.options;
  const { along: _along, centre: _centre, ...level } = theirs;
  const own: PanelOptions = {
    ...level,
    ...options,
    grain: options.grain ?? (other.frame.turn * 180) / Math.PI,
  };
  const frame = framePanel(name, shape, placing.scale, print, own);
  const [from, to] = named ? [named.from, named.to] : facingEdges(other.shape, shape);
  const seam = seamPoint(other, from);
  if (own.drape !== undefined && own.drape !== false) {
    const side = to === "right" ? "right" : "left";
    return placeAlone(placing, name, shape, print, own, { side, along: seam.print.x });
  }
  // Where the two are drawn side by side the print runs on as it is; drawn apart, it is moved from edge to edge.
  const shift = named ? vectorBetween(seam.at, edgeMiddle(frame, own, to)) : { x: 0, y: 0 };
  const base = other.flat ?? nearestFlat(other, seam);
  const flat = compose(translation(shift.x, shift.y), base);
  const mirrored = { mirror: other.mirror, mirrored: other.mirrored };
  return { name, shape, print, options: own, frame, flat, draped: undefined, ...mirrored, notes: [] };
}

const vectorBetween = (one: Point, other: Point): Point => ({ x: other.x - one.x, y: other.y - one.y });

/** Side by side, the edges that face each other. */
function facingEdges(one: SketchShape, other: SketchShape): readonly [Edge, Edge] {
  const [a, b] = [pathBounds(one.outline), pathBounds(other.outline)];
  const right = a !== undefined && b !== undefined && b.x + b.width / 2 < a.x + a.width / 2;
  return right ? ["left", "right"] : ["right", "left"];
}

/** Halfway along an edge, in user units of the sketch. */
function edgeMiddle(frame: PanelFrame, options: PanelOptions, edge: Edge): Point {
  const edges = cutEdges(frame.shape.outline, readCorners(options, frame.shape), frame.name);
  const { from, to } = chordOf(edges, edge);
  return { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
}

interface SeamPoint {
  /** In user units of the sketch. */
  readonly at: Point;
  /** Of the print, in mm. */
  readonly print: Point;
}

/** The middle of a placed panel's edge, on the sketch and on the print. */
function seamPoint(panel: PlacedPanel, edge: Edge): SeamPoint {
  if (panel.draped !== undefined && panel.flat === undefined) {
    const [along, down] =
      edge === "left" ? [0, 0.5] : edge === "right" ? [1, 0.5] : edge === "top" ? [0.5, 0] : [0.5, 1];
    const print = panel.draped.cloth(along, down);
    const { x, y } = panel.draped.map(print.x, print.y);
    return { at: applyTo(panel.frame.toSketch, { x, y }), print };
  }
  const at = edgeMiddle(panel.frame, panel.options, edge);
  const back = panel.flat && invert(panel.flat);
  return { at, print: back ? applyTo(back, at) : { x: 0, y: 0 } };
}

/** A flat placement that agrees with a draped one at the middle of its seam. */
function nearestFlat(panel: PlacedPanel, seam: SeamPoint): Affine {
  const turned = compose(
    turning(panel.frame.turn),
    scaling(Math.hypot(panel.frame.toSketch.a, panel.frame.toSketch.b)),
  );
  const at = applyTo(turned, seam.print);
  return compose(translation(seam.at.x - at.x, seam.at.y - at.y), turned);
}
