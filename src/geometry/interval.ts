/** All numbers from the first to the second. */
export type Interval = readonly [number, number];

export function addIntervals(one: Interval, other: Interval): Interval {
  return [one[0] + other[0], one[1] + other[1]];
}

export function subtractIntervals(one: Interval, other: Interval): Interval {
  return [one[0] - other[1], one[1] - other[0]];
}

export function multiplyIntervals([a, b]: Interval, [c, d]: Interval): Interval {
  const products = [a * c, a * d, b * c, b * d];
  return [Math.min(...products), Math.max(...products)];
}

export function scaleInterval([low, high]: Interval, factor: number): Interval {
  return factor < 0 ? [high * factor, low * factor] : [low * factor, high * factor];
}

/** The cosines of all angles of an interval, in radians. */
export function cosineOf([low, high]: Interval): Interval {
  if (high - low >= 2 * Math.PI) return [-1, 1];
  const ends = [Math.cos(low), Math.cos(high)];
  // The cosine is 1 at even and -1 at odd multiples of a half turn.
  const meets = (phase: number): boolean =>
    Math.ceil((low - phase) / (2 * Math.PI)) <= Math.floor((high - phase) / (2 * Math.PI));
  return [meets(Math.PI) ? -1 : Math.min(...ends), meets(0) ? 1 : Math.max(...ends)];
}
