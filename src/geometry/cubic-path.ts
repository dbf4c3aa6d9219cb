import type { Affine } from "./affine.js";

/**
 * One run of joined cubics. `points` is flat, x then y: the start point, then three points a cubic (first control
 * point, second control point, end). Straight pieces are cubics whose control points lie on the thirds.
 */
export interface Subpath {
  /** A closed run ends exactly on its start point; the closing line, where it has a length, is one of its cubics. */
  readonly closed: boolean;
  readonly points: readonly number[];
}

/** A path of cubics only. The unit is said where it is used. */
export interface CubicPath {
  readonly subpaths: readonly Subpath[];
}

/** One cubic: start, two control points, end, flat x then y. */
export type Cubic = readonly [number, number, number, number, number, number, number, number];

/** How many cubics a run has. */
export function countCubics(subpath: Subpath): number {
  return Math.floor((subpath.points.length - 2) / 6);
}

/** The cubic with this index, from 0, of a run. */
export function cubicAt(subpath: Subpath, index: number): Cubic {
  const { points } = subpath;
  const at = (offset: number): number => points[6 * index + offset] ?? Number.NaN;
  return [at(0), at(1), at(2), at(3), at(4), at(5), at(6), at(7)];
}

/** All cubics of a run, in order. */
export function cubicsOf(subpath: Subpath): readonly Cubic[] {
  return Array.from({ length: countCubics(subpath) }, (_, index) => cubicAt(subpath, index));
}

/** A straight cubic from one point to another, its control points on the thirds. */
export function straightCubic(x0: number, y0: number, x1: number, y1: number): Cubic {
  const [dx, dy] = [(x1 - x0) / 3, (y1 - y0) / 3];
  return [x0, y0, x0 + dx, y0 + dy, x1 - dx, y1 - dy, x1, y1];
}

/** A run of cubics that follow each other; each must start where the one before ends. */
export function joinCubics(cubics: readonly Cubic[], closed: boolean): Subpath {
  const points: number[] = [];
  for (const cubic of cubics) {
    if (points.length === 0) points.push(cubic[0], cubic[1]);
    points.push(cubic[2], cubic[3], cubic[4], cubic[5], cubic[6], cubic[7]);
  }
  return { closed, points };
}

/** The path under an affine map: exact, since a cubic's image is the cubic of its mapped points. */
export function transformPath(path: CubicPath, map: Affine): CubicPath {
  return {
    subpaths: path.subpaths.map(({ closed, points }) => {
      const mapped = new Array<number>(points.length);
      for (let k = 0; k + 1 < points.length; k += 2) {
        const x = points[k] ?? 0;
        const y = points[k + 1] ?? 0;
        mapped[k] = map.a * x + map.c * y + map.e;
        mapped[k + 1] = map.b * x + map.d * y + map.f;
      }
      return { closed, points: mapped };
    }),
  };
}
