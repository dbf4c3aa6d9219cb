import { RepetendError } from "../../errors.js";
import { type Affine, applyTo, compose, type Point, translation, turning } from "../../geometry/affine.js";
import { type Box, mapBox } from "../../geometry/box.js";
import { reverseCubic } from "../../geometry/cubic.js";
import { cubicsOf, joinCubics, type Subpath, transformPath } from "../../geometry/cubic-path.js";
import { invertPatch, type Patch, type PatchGuide, patch } from "../../geometry/patch.js";
import { readPath } from "../../geometry/read-path.js";
import {
  composeSmooth,
  localAffine,
  type SmoothMap,
  smoothAffine,
  smoothFrom,
} from "../../geometry/smooth-map.js";
import type { Print } from "../../repeat/types.js";
import { mm } from "../../units/index.js";
import type { DrapeOptions, PanelOptions } from "../options.js";
import { chooseLines } from "../sketch/select.js";
import type { Sketch } from "../types.js";
import { cutEdges } from "./edges.js";
import { readAlong, readLevel } from "./level.js";
import { cornersInFrame, type PanelFrame } from "./panel-frame.js";

/** A print that follows a panel. */
export interface Draped {
  /** From the print, in mm, to the upright frame of the panel, in real mm. */
  readonly map: SmoothMap;
  /** The panel without its print, in the upright frame turned by `bias` (radians). */
  readonly panel: Patch;
  readonly bias: number;
  /** The part of the print that lies in the panel, in mm. */
  readonly window: Box;
  /** The same as one affine map, where the panel is a parallelogram and the cloth smooth. */
  readonly affine: Affine | undefined;
  /** Cloth for one length of the drawn edge: 1 is true scale, more is gathered, less is stretched. */
  readonly gathers: { readonly top: number; readonly bottom: number };
  /** From the unit square (along, down) to the print, in mm. */
  readonly cloth: (along: number, down: number) => Point;
}

/** Another way to fix the phase: what lies on one of the two sides of the cloth. */
export interface SidePhase {
  readonly side: "left" | "right";
  /** Along the print, in mm. */
  readonly along: number;
}

const QUARTER = Math.PI / 2;

/** Lays a print into the real outline of a panel. */
export function placeDraped(
  sketch: Sketch,
  frame: PanelFrame,
  print: Print,
  options: PanelOptions,
  phase?: SidePhase,
): Draped {
  const drape: DrapeOptions = typeof options.drape === "object" ? options.drape : {};
  const { name } = frame;
  // What is left of the turn beyond quarters turns the print inside the cloth: a panel cut on the bias.
  const bias = frame.turn - Math.round(frame.turn / QUARTER) * QUARTER;
  const upright: PanelFrame = bias === 0 ? frame : { ...frame, turn: frame.turn - bias };
  const turned = (at: Point): Point => applyTo(compose(turning(bias), frame.fromSketch), at);
  const shape = transformPath(frame.outline, turning(bias));
  const corners = cornersInFrame(options, frame)?.map((at) => applyTo(turning(bias), at));
  const [one, two, three, four] = corners ?? [];
  const edges = cutEdges(shape, one && two && three && four ? [one, two, three, four] : undefined, name);
  const guides = readGuides(sketch, drape, compose(turning(bias), frame.fromSketch), frame);
  const panel = patchOf({ ...edges, ...(guides.length > 0 ? { guides } : {}) }, name);

  const { side, level } = readLevel(upright, print, options);
  const met = options.band !== undefined || options.level !== undefined || options.edge !== undefined;
  const hold = drape.hold ?? (met ? side : "bottom");
  const fullness = readFullness(drape, name);
  const height =
    drape.height === undefined ? (panel.lengths.left + panel.lengths.right) / 2 : mm(drape.height);
  if (!(height > 0)) throw new RepetendError("E_SIZE", "draped cloth has no height", { where: name });
  const widths = readWidths(panel, hold, fullness, name);

  const pinned = options.pin && {
    print: { x: mm(options.pin.print[0]), y: mm(options.pin.print[1]) },
    at: invertPinned(panel, turned({ x: options.pin.at[0], y: options.pin.at[1] }), name),
  };
  const widthAt = (v: number): number => widths.top + v * (widths.bottom - widths.top);
  const middle = pinned
    ? pinned.print.x - (pinned.at.x - 0.5) * widthAt(pinned.at.y)
    : phase
      ? phase.along + (phase.side === "left" ? 0.5 : -0.5) * widthAt(side === "top" ? 0 : 1)
      : readAlong(upright, print, options);
  const top = pinned ? pinned.print.y - pinned.at.y * height : side === "top" ? level : level - height;

  const spread = widths.bottom - widths.top;
  const toUnit = smoothFrom((x, y, into) => {
    const v = (y - top) / height;
    const width = widthAt(v);
    into[0] = 0.5 + (x - middle) / width;
    into[1] = v;
    into[2] = 1 / width;
    into[3] = 0;
    into[4] = -((x - middle) * spread) / (width * width * height);
    into[5] = 1 / height;
    into[6] = 0;
  });
  const pivot = pinned?.print ?? { x: middle, y: side === "top" ? top : top + height };
  const inCloth = compose(translation(pivot.x, pivot.y), turning(bias), translation(-pivot.x, -pivot.y));
  const backInCloth = compose(translation(pivot.x, pivot.y), turning(-bias), translation(-pivot.x, -pivot.y));
  const cloth = (along: number, down: number): Point =>
    applyTo(backInCloth, { x: middle + (along - 0.5) * widthAt(down), y: top + down * height });
  const widest = Math.max(widths.top, widths.bottom);
  const map = composeSmooth(
    ...(bias === 0 ? [] : [smoothAffine(turning(-bias))]),
    panel.map,
    toUnit,
    ...(bias === 0 ? [] : [smoothAffine(inCloth)]),
  );
  const window = mapBox(backInCloth, { x: middle - widest / 2, y: top, width: widest, height });
  const even = Math.abs(widths.top - widths.bottom) <= 1e-9 * widest;
  return {
    map,
    panel,
    bias,
    window,
    affine: even && guides.length === 0 ? affineOf(panel, map, cloth(0.5, 0.5)) : undefined,
    gathers: { top: widths.top / panel.lengths.top, bottom: widths.bottom / panel.lengths.bottom },
    cloth,
  };
}

function readFullness({ fullness = 1 }: DrapeOptions, where: string): number {
  if (fullness >= 1 && fullness <= 10) return fullness;
  throw new RepetendError("E_NUMBER", "fullness is cloth for one length of the drawn edge", {
    where,
    value: String(fullness),
    accepted: "1 to 10",
  });
}

/** How much cloth lies along the top and along the bottom of a panel, in mm. */
function readWidths(
  { lengths }: Patch,
  hold: "top" | "bottom" | "both",
  fullness: number,
  where: string,
): { readonly top: number; readonly bottom: number } {
  const [top, bottom] = [lengths.top * fullness, lengths.bottom * fullness];
  const widths =
    hold === "both" ? { top, bottom } : hold === "top" ? { top, bottom: top } : { top: bottom, bottom };
  if (widths.top > 0 && widths.bottom > 0) return widths;
  throw new RepetendError("E_SIZE", "an edge that holds the print has no length", { where });
}

function invertPinned(panel: Patch, at: Point, where: string): Point {
  const found = invertPatch(panel, at, 1e-6);
  if (found !== undefined) return found;
  throw new RepetendError("E_LAYOUT", "the point that is pinned lies outside the panel", { where });
}

/** The four corners decide: straight edges between the corners of a parallelogram, asked by length, are affine. */
function affineOf(panel: Patch, map: SmoothMap, middle: Point): Affine | undefined {
  const size = Math.max(...Object.values(panel.lengths));
  const affine = localAffine(panel.map, { x: 0.5, y: 0.5 });
  for (let k = 0; k <= 16; k += 1)
    for (const [u, v] of [
      [k / 16, 0],
      [k / 16, 1],
      [0, k / 16],
      [1, k / 16],
    ] as const) {
      const wanted = applyTo(affine, { x: u, y: v });
      const met = panel.map(u, v);
      if (Math.hypot(met.x - wanted.x, met.y - wanted.y) > 1e-9 * size) return undefined;
    }
  return localAffine(map, middle);
}

/** The patch of a panel; what it refuses is said with the panel's name. */
function patchOf(edges: Parameters<typeof patch>[0], panel: string): Patch {
  try {
    return patch(edges);
  } catch (error) {
    if (!(error instanceof RepetendError)) throw error;
    const { code, problem, value, accepted } = error;
    throw new RepetendError(code, problem, {
      where: [panel, error.where].filter(Boolean).join(", "),
      ...(value === undefined ? {} : { value }),
      ...(accepted === undefined ? {} : { accepted }),
      cause: error,
    });
  }
}

/** The guides of a panel in its frame, each from the top down. */
function readGuides(
  sketch: Sketch,
  { guides = [] }: DrapeOptions,
  toFrame: Affine,
  { name: where, shape }: PanelFrame,
): readonly PatchGuide[] {
  const runs = guides.flatMap((guide): readonly Subpath[] => {
    const paths = /^[#.]/.test(guide)
      ? chooseLines(sketch, guide, shape).map(({ outline }) => outline)
      : [readPath(guide)];
    const found = paths.flatMap((path) => transformPath(path, toFrame).subpaths);
    if (found.length > 0) return found;
    throw new RepetendError("E_LAYOUT", "a guide without a line", { where, value: guide });
  });
  const down = runs.map((run) => {
    const [first, last] = [run.points[1] ?? 0, run.points.at(-1) ?? 0];
    return first <= last ? run : joinCubics([...cubicsOf(run)].reverse().map(reverseCubic), false);
  });
  return down.map((path) => ({ path }));
}
