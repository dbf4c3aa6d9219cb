/** One filled shape: closed rings, flat x then y, the rule by which they hold their inside, and the box around them. */
export interface Fill {
  readonly rings: readonly Float64Array[];
  readonly evenOdd: boolean;
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** One painted shape as straight runs, flat x then y, and how far around them it is painted. */
export interface Outline {
  readonly runs: readonly Float64Array[];
  readonly radius: number;
  readonly fill: Fill | undefined;
}

/** Rings as a filled shape. */
export function fillOf(rings: readonly Float64Array[], evenOdd: boolean): Fill {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const ring of rings) {
    for (let k = 0; k + 1 < ring.length; k += 2) {
      left = Math.min(left, ring[k] ?? 0);
      right = Math.max(right, ring[k] ?? 0);
      top = Math.min(top, ring[k + 1] ?? 0);
      bottom = Math.max(bottom, ring[k + 1] ?? 0);
    }
  }
  return { rings, evenOdd, left, top, right, bottom };
}

/** Only the largest shapes are asked whether they cover a line: they cover the most, and a drawing may have thousands. */
const MOST_COVERS = 48;

/**
 * The lines of all outlines, five numbers each, less those that another filled shape covers wholly, with what is
 * painted around them: they never are a motif's nearest point.
 */
export function dropCovered(outlines: readonly Outline[]): readonly number[] {
  const size = ({ left, top, right, bottom }: Fill) => (right - left) * (bottom - top);
  const covers = outlines
    .flatMap(({ fill }) => (fill === undefined ? [] : [fill]))
    .sort((one, other) => size(other) - size(one))
    .slice(0, MOST_COVERS);
  const kept: number[] = [];
  for (const { runs, radius, fill } of outlines) {
    for (const run of runs) {
      // A run of one point is a dot where it is stroked.
      if (run.length === 2) kept.push(run[0] ?? 0, run[1] ?? 0, run[0] ?? 0, run[1] ?? 0, radius);
      for (let k = 0; k + 3 < run.length; k += 2) {
        const [x0, y0, x1, y1] = [run[k] ?? 0, run[k + 1] ?? 0, run[k + 2] ?? 0, run[k + 3] ?? 0];
        const [dx, dy] = [x1 - x0, y1 - y0];
        const around = Math.sqrt(dx * dx + dy * dy) / 2 + radius;
        const [x, y] = [(x0 + x1) / 2, (y0 + y1) / 2];
        if (!covers.some((cover) => cover !== fill && coversDisc(cover, x, y, around))) {
          kept.push(x0, y0, x1, y1, radius);
        }
      }
    }
  }
  return kept;
}

/** Whether a disc lies inside of a filled shape. */
function coversDisc(fill: Fill, x: number, y: number, around: number): boolean {
  const { left, top, right, bottom } = fill;
  if (x - around < left || x + around > right || y - around < top || y + around > bottom) return false;
  return isInside(fill, x, y) && fill.rings.every((ring) => isFar(ring, x, y, around));
}

function isFar(ring: Float64Array, x: number, y: number, around: number): boolean {
  for (let k = 0; k + 3 < ring.length; k += 2) {
    const [x0, y0] = [ring[k] ?? 0, ring[k + 1] ?? 0];
    const [dx, dy] = [(ring[k + 2] ?? 0) - x0, (ring[k + 3] ?? 0) - y0];
    const length = dx * dx + dy * dy;
    const t = length === 0 ? 0 : Math.min(1, Math.max(0, ((x - x0) * dx + (y - y0) * dy) / length));
    const [px, py] = [x - x0 - t * dx, y - y0 - t * dy];
    if (px * px + py * py < around * around) return false;
  }
  return true;
}

/** Whether a filled shape holds a point, by its rule: the winding number (D. Sunday 2001, from memory). */
export function isInside({ rings, evenOdd, left, top, right, bottom }: Fill, x: number, y: number): boolean {
  if (x < left || x > right || y < top || y > bottom) return false;
  let winding = 0;
  let crossings = 0;
  for (const ring of rings) {
    for (let k = 0; k + 3 < ring.length; k += 2) {
      const [y0, y1] = [ring[k + 1] ?? 0, ring[k + 3] ?? 0];
      if (y0 <= y === y1 <= y) continue;
      const x0 = ring[k] ?? 0;
      if (x0 + ((y - y0) / (y1 - y0)) * ((ring[k + 2] ?? 0) - x0) <= x) continue;
      crossings += 1;
      winding += y1 > y0 ? 1 : -1;
    }
  }
  return evenOdd ? crossings % 2 === 1 : winding !== 0;
}
