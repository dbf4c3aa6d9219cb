/** The circles of a radial gradient, in its own units. */
export interface GradientCircles {
  readonly cx: number;
  readonly cy: number;
  readonly r: number;
  readonly fx: number;
  readonly fy: number;
  readonly fr: number;
}

/** The same gradient begun at a point: where that lies, and where on the way the start circle is. */
export interface PointStart {
  readonly fx: number;
  readonly fy: number;
  /** The share of the way, from 0 to below 1, at which the first stop stands now. */
  readonly from: number;
}

/**
 * Begins a radial gradient at a point instead of a circle, which renderers of SVG 1.1 know nothing of: the circles
 * between start and end shrink evenly, so that before the start they come to a point. Exact where the colour before
 * the start stays the first one (`spreadMethod="pad"`). `undefined` where the start circle is not inside of the end.
 */
export function startAtPoint({ cx, cy, r, fx, fy, fr }: GradientCircles): PointStart | undefined {
  if (Math.hypot(fx - cx, fy - cy) + fr >= r) return undefined;
  const beyond = fr / (r - fr);
  return { fx: fx - (cx - fx) * beyond, fy: fy - (cy - fy) * beyond, from: fr / r };
}
