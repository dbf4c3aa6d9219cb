import type { Cubic } from "./cubic-path.js";

/** An arc as a path's `A` command gives it: radii, turn of the x axis in degrees, which of the four arcs. */
export interface EndpointArc {
  readonly radiusX: number;
  readonly radiusY: number;
  /** Degrees, clockwise on the page. */
  readonly turn: number;
  readonly large: boolean;
  /** True for the arc that runs clockwise on the page. */
  readonly sweep: boolean;
}

/**
 * How far a cubic may lie off its arc, as a share of the larger radius. Eighths of a turn reach 4.2e-6: 2 micrometres
 * on a radius of 500 mm, a fortieth of a printed pixel at 300 dpi.
 */
export const ARC_TOLERANCE = 5e-6;

/**
 * The largest radial error of the usual cubic for an arc of this angle, as a share of the radius: (2/27)
 * sin^6(angle/4) / cos^2(angle/4), the maximum of the error polynomial 4/27 sin^6/cos^2 of x^2 + y^2 - 1, halved.
 * After T. Dokken, M. Dæhlen, T. Lyche and K. Mørken, "Good approximation of circles by curvature-continuous Bézier
 * curves", Computer Aided Geometric Design 7 (1990). The angle is in radians, at most half a turn.
 */
export function arcError(angle: number): number {
  const quarter = angle / 4;
  return ((2 / 27) * Math.sin(quarter) ** 6) / Math.cos(quarter) ** 2;
}

/** The smallest number of equal pieces for which an arc of this angle stays within the tolerance. */
export function arcPieces(angle: number, tolerance: number = ARC_TOLERANCE): number {
  const whole = Math.abs(angle);
  let pieces = Math.max(1, Math.ceil(whole / (Math.PI / 2) - 1e-9));
  while (arcError(whole / pieces) > tolerance && pieces < 4096) pieces += 1;
  return pieces;
}

/**
 * An arc as cubics within a tolerance, its two end points exactly as given. Radii that are too small to span the
 * points grow until they do, a zero radius makes a straight line, and equal end points make nothing: SVG 2, appendix
 * "Elliptical arc implementation notes", B.2.4 and B.2.5.
 */
export function arcCubics(
  x0: number,
  y0: number,
  arc: EndpointArc,
  x1: number,
  y1: number,
  tolerance: number = ARC_TOLERANCE,
): readonly Cubic[] {
  if (x0 === x1 && y0 === y1) return [];
  let [rx, ry] = [Math.abs(arc.radiusX), Math.abs(arc.radiusY)];
  if (rx === 0 || ry === 0) {
    const [dx, dy] = [(x1 - x0) / 3, (y1 - y0) / 3];
    return [[x0, y0, x0 + dx, y0 + dy, x1 - dx, y1 - dy, x1, y1]];
  }
  const turn = (arc.turn * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  // Half the chord, turned and scaled so that the ellipse becomes the unit circle.
  const chordX = (cos * (x0 - x1) + sin * (y0 - y1)) / 2;
  const chordY = (-sin * (x0 - x1) + cos * (y0 - y1)) / 2;
  const reach = Math.hypot(chordX / rx, chordY / ry);
  if (reach > 1) {
    rx *= reach;
    ry *= reach;
  }
  const [ux, uy] = [chordX / rx, chordY / ry];
  const half = Math.min(1, Math.hypot(ux, uy));
  const off = Math.sqrt(Math.max(0, 1 - half * half)) / half;
  const side = arc.large === arc.sweep ? -1 : 1;
  const [centreU, centreV] = [side * off * uy, -side * off * ux];
  const from = Math.atan2(uy - centreV, ux - centreU);
  const to = Math.atan2(-uy - centreV, -ux - centreU);
  let angle = to - from;
  if (arc.sweep && angle < 0) angle += 2 * Math.PI;
  if (!arc.sweep && angle > 0) angle -= 2 * Math.PI;
  const midX = (x0 + x1) / 2;
  const midY = (y0 + y1) / 2;
  const toPage = (u: number, v: number): readonly [number, number] => {
    const [x, y] = [rx * u, ry * v];
    return [cos * x - sin * y, sin * x + cos * y];
  };
  const [offX, offY] = toPage(centreU, centreV);
  const [cx, cy] = [midX + offX, midY + offY];

  const pieces = arcPieces(angle, tolerance);
  const step = angle / pieces;
  const handle = (4 / 3) * Math.tan(step / 4);
  return Array.from({ length: pieces }, (_, k): Cubic => {
    const [one, other] = [from + k * step, from + (k + 1) * step];
    const start = k === 0 ? ([x0, y0] as const) : add(toPage(Math.cos(one), Math.sin(one)), cx, cy);
    const end =
      k === pieces - 1 ? ([x1, y1] as const) : add(toPage(Math.cos(other), Math.sin(other)), cx, cy);
    const out = toPage(-handle * Math.sin(one), handle * Math.cos(one));
    const back = toPage(handle * Math.sin(other), -handle * Math.cos(other));
    return [
      start[0],
      start[1],
      start[0] + out[0],
      start[1] + out[1],
      end[0] + back[0],
      end[1] + back[1],
      end[0],
      end[1],
    ];
  });
}

function add(point: readonly [number, number], x: number, y: number): readonly [number, number] {
  return [point[0] + x, point[1] + y];
}
