import type { Space } from "./space.js";

/** One way in which motifs could fall into rows: turns to a mm along x and down y. Rows run at right angles to it. */
export type Wave = readonly [number, number];

/**
 * The waves of a cell that close on its lattice, in all directions, no shorter than `shortest` mm: its reciprocal
 * lattice, one of each two opposite ones, the longest first. None for a band.
 */
export function wavesOf({ u, v }: Space, shortest: number): readonly Wave[] {
  if (v === undefined) return [];
  const most = 1 / shortest;
  const area = u[0] * v[1] - u[1] * v[0];
  const found: { readonly wave: Wave; readonly squared: number }[] = [];
  // Of (i, j) the wave turns i times along u and j times along v.
  const [along, down] = [u, v].map(([x, y]) => Math.floor(most * Math.sqrt(x * x + y * y))) as [
    number,
    number,
  ];
  for (let i = 0; i <= along; i += 1) {
    for (let j = i === 0 ? 1 : -down; j <= down; j += 1) {
      const wave: Wave = [(i * v[1] - j * u[1]) / area, (j * u[0] - i * v[0]) / area];
      const squared = wave[0] * wave[0] + wave[1] * wave[1];
      if (squared <= most * most) found.push({ wave, squared });
    }
  }
  return found.sort((one, other) => one.squared - other.squared).map(({ wave }) => wave);
}

/** Of each wave, which others run in its direction, and which are of like size in another one. */
export interface Likes {
  readonly along: readonly (readonly number[])[];
  readonly beside: readonly (readonly number[])[];
}

/** Waves whose lengths are within this factor are of like size: a little more than from a square's side to its diagonal. */
const LIKE_SIZE = 1.6;
/** Directions nearer to each other than this are one. Turns to a mm, squared: far below one step of any lattice. */
const SAME = 1e-12;

export function likesOf(waves: readonly Wave[]): Likes {
  const isAlong = (one: Wave, other: Wave) => Math.abs(one[0] * other[1] - one[1] * other[0]) < SAME;
  const size = ([kx, ky]: Wave) => kx * kx + ky * ky;
  const isLike = (one: Wave, other: Wave) => {
    const ratio = size(one) / size(other);
    return ratio < LIKE_SIZE * LIKE_SIZE && ratio > 1 / (LIKE_SIZE * LIKE_SIZE);
  };
  const listOf = (one: Wave, fits: (one: Wave, other: Wave) => boolean) =>
    waves.flatMap((other, index) => (fits(one, other) ? [index] : []));
  return {
    along: waves.map((one) => listOf(one, isAlong)),
    beside: waves.map((one) => listOf(one, (a, b) => isLike(a, b) && !isAlong(a, b))),
  };
}
