import { derivativeOn, pointOn } from "./cubic.js";
import { type Cubic, type CubicPath, cubicsOf, type Subpath } from "./cubic-path.js";
import type { SmoothMap } from "./smooth-map.js";

/** A path that was mapped, and how well. */
export interface MappedPath {
  readonly path: CubicPath;
  /** The largest miss met at the probes, in the unit of the image. */
  readonly worst: number;
}

/** Where each new cubic is compared with the true image; between these the miss can be a little larger. */
const PROBES = [1 / 8, 1 / 4, 3 / 8, 1 / 2, 5 / 8, 3 / 4, 7 / 8] as const;

/** What the probes may miss between them: the largest interpolation error lies within 4 per cent of a probe's. */
const SAFETY = 0.8;

/** A cubic is halved at most this often: 1/4096 of it. Below, only a jump in the map's stretch is left. */
const DEPTH = 12;

interface Sample {
  readonly t: number;
  readonly x: number;
  readonly y: number;
  /** The derivative of the image by t. */
  readonly dx: number;
  readonly dy: number;
}

/**
 * The image of a path under a smooth map, as cubics that stay within `tolerance` (in the unit of the image) of the
 * true image at the same parameter. Each new cubic takes place and speed from the map at its two ends (Hermite
 * interpolation), is compared with the true image at seven places, and is halved until it fits. Under an affine map
 * every cubic stays one cubic, exactly.
 */
export function mapPath(path: CubicPath, map: SmoothMap, tolerance: number): MappedPath {
  let worst = 0;
  const subpaths = path.subpaths.map((subpath): Subpath => {
    const [x, y] = subpath.points;
    if (x === undefined || y === undefined) return subpath;
    const start = map(x, y);
    const points = [start.x, start.y];
    for (const cubic of cubicsOf(subpath)) {
      const from = sample(cubic, 0, map);
      const to = sample(cubic, 1, map);
      worst = Math.max(worst, fit(cubic, map, from, to, SAFETY * tolerance, DEPTH, points));
    }
    return { closed: subpath.closed, points };
  });
  return { path: { subpaths }, worst };
}

function sample(cubic: Cubic, t: number, map: SmoothMap): Sample {
  const at = pointOn(cubic, t);
  const speed = derivativeOn(cubic, t);
  const image = map(at.x, at.y);
  return {
    t,
    x: image.x,
    y: image.y,
    dx: image.a * speed.x + image.c * speed.y,
    dy: image.b * speed.x + image.d * speed.y,
  };
}

/** Adds the image between two samples to `points`; gives the largest miss. */
function fit(
  cubic: Cubic,
  map: SmoothMap,
  from: Sample,
  to: Sample,
  allowed: number,
  depth: number,
  points: number[],
): number {
  const third = (to.t - from.t) / 3;
  const image: Cubic = [
    from.x,
    from.y,
    from.x + third * from.dx,
    from.y + third * from.dy,
    to.x - third * to.dx,
    to.y - third * to.dy,
    to.x,
    to.y,
  ];
  let worst = 0;
  for (const part of PROBES) {
    const source = pointOn(cubic, from.t + part * (to.t - from.t));
    const wanted = map(source.x, source.y);
    const met = pointOn(image, part);
    worst = Math.max(worst, Math.hypot(met.x - wanted.x, met.y - wanted.y));
    if (worst > allowed && depth > 0) break;
  }
  if (worst > allowed && depth > 0) {
    const middle = sample(cubic, (from.t + to.t) / 2, map);
    return Math.max(
      fit(cubic, map, from, middle, allowed, depth - 1, points),
      fit(cubic, map, middle, to, allowed, depth - 1, points),
    );
  }
  points.push(image[2], image[3], image[4], image[5], image[6], image[7]);
  return worst;
}
