import type { Note } from "../../errors.js";
import { type Affine, applyTo, type Point, scaling } from "../../geometry/affine.js";
import { pointOn } from "../../geometry/cubic.js";
import { type CubicPath, cubicsOf, transformPath } from "../../geometry/cubic-path.js";
import { nearestOnCubics } from "../../geometry/nearest.js";
import { pathBounds } from "../../geometry/path-bounds.js";
import type { PanelOptions } from "../options.js";
import type { Edge, SketchShape } from "../types.js";
import { placeAlone } from "./alone.js";
import type { PlacedPanel, Placing } from "./placed-panel.js";

/** By how much a panel may differ from the mirror image of its partner, in real mm, before it is said. */
const MIRROR_TOLERANCE = 2;

/** Places a print on the partner of another panel, mirrored left to right. */
export function placeMirrored(
  placing: Placing,
  name: string,
  shape: SketchShape,
  other: PlacedPanel,
  options: PanelOptions,
): PlacedPanel {
  const mirror = mirrorBetween(other.shape, shape);
  const kind = options.mirrored ?? "artwork";
  const print = options.print ?? other.print;
  if (kind === "placement") {
    const { panel: _panel, print: _print, ...theirs } = other.options;
    const turned = -other.frame.turn;
    const pin = theirs.pin && {
      ...theirs.pin,
      at: pair(applyTo(mirror, { x: theirs.pin.at[0], y: theirs.pin.at[1] })),
    };
    const own: PanelOptions = {
      ...theirs,
      ...(pin ? { pin } : {}),
      ...(theirs.edge === undefined ? {} : { edge: OPPOSITE[theirs.edge] }),
      panel: options.panel,
      grain: (turned * 180) / Math.PI,
      drape: mirrorDrape(theirs.drape, mirror, options.drape),
    };
    return { ...placeAlone(placing, name, shape, print, own), mirrored: kind };
  }
  const outline = transformPath(other.shape.outline, mirror);
  const gap = largestGap(outline, shape.outline) * placing.scale.perUnit;
  const notes: readonly Note[] =
    gap <= MIRROR_TOLERANCE
      ? []
      : [
          {
            level: "warning",
            code: "N_MIRROR",
            where: name,
            message: `the panel differs from the mirror image of ${other.name} by up to ${gap.toFixed(1)} mm`,
          },
        ];
  return {
    ...other,
    name,
    shape,
    print: other.print,
    options,
    mirror,
    mirrored: kind,
    notes: [...other.notes, ...notes],
  };
}

const OPPOSITE: Readonly<Record<Edge, Edge>> = { top: "top", bottom: "bottom", left: "right", right: "left" };

const pair = ({ x, y }: Point): readonly [number, number] => [x, y];

function mirrorDrape(
  theirs: PanelOptions["drape"],
  mirror: Affine,
  own: PanelOptions["drape"],
): boolean | NonNullable<PanelOptions["drape"]> {
  if (own !== undefined) return own;
  if (typeof theirs !== "object") return theirs ?? false;
  const { corners, guides: _guides, ...rest } = theirs;
  if (corners === undefined) return rest;
  const [one, two, three, four] = corners.map(([x, y]) => pair(applyTo(mirror, { x, y })));
  return one && two && three && four ? { ...rest, corners: [two, one, four, three] } : rest;
}

/** The mirror image, left to right, that lays one shape's box on another's. */
function mirrorBetween(from: SketchShape, to: SketchShape): Affine {
  const [one, other] = [pathBounds(from.outline), pathBounds(to.outline)];
  if (one === undefined || other === undefined) return scaling(-1, 1);
  const across = one.x + one.width / 2 + other.x + other.width / 2;
  const down = other.y + other.height / 2 - (one.y + one.height / 2);
  return { a: -1, b: 0, c: 0, d: 1, e: across, f: down };
}

function largestGap(one: CubicPath, other: CubicPath): number {
  const target = other.subpaths.flatMap(cubicsOf);
  const places = one.subpaths
    .flatMap(cubicsOf)
    .flatMap((cubic) => [0, 0.25, 0.5, 0.75].map((t) => pointOn(cubic, t)));
  return Math.max(0, ...places.map((place) => nearestOnCubics(target, place)?.distance ?? 0));
}
