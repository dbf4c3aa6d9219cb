import { type Lattice, latticePoint } from "../../geometry/lattice.js";

/** What a toss fills, in mm: a cell and its lattice, or a band, which runs along x only. */
export interface Space {
  /** The rectangle that holds each place once: the cell, or one repeat of the band. */
  readonly width: number;
  readonly height: number;
  readonly u: readonly [number, number];
  /** Missing in a band. */
  readonly v: readonly [number, number] | undefined;
  /** How far inside of a band's limits motifs stay; missing for a cell, and for a band out of which they may lean. */
  readonly edges: { readonly keep: number } | undefined;
  /** How far motifs may lean out of a band's limits; 0 for a cell, and for a band that keeps them inside. */
  readonly lean: number;
}

/** The space of an all-over print's cell. */
export function cellSpace(lattice: Lattice): Space {
  const point = (column: number, row: number): readonly [number, number] => {
    const { x, y } = latticePoint(lattice, column, row);
    return [x, y];
  };
  const { width, height } = lattice;
  return { width, height, u: point(1, 0), v: point(0, 1), edges: undefined, lean: 0 };
}

/** The space of a band, from its upper limit down. `keep` is how far inside its limits motifs stay, or missing. */
export function bandSpace(repeat: number, height: number, keep: number | undefined): Space {
  return {
    width: repeat,
    height,
    u: [repeat, 0],
    v: undefined,
    edges: keep === undefined ? undefined : { keep },
    lean: 0,
  };
}

/** A move by whole steps of the lattice: flat x then y for many. */
export type Moves = readonly number[];

/**
 * Every lattice vector t for which a thing at (x, y) moved by it is within `reach` of the origin, at most: the lattice
 * is cut by lines along v and along u, whose distances bound the counts.
 */
export function movesNear({ u, v }: Space, x: number, y: number, reach: number): Moves {
  const moves: number[] = [];
  const within = (mx: number, my: number) => {
    const [dx, dy] = [x + mx, y + my];
    if (dx * dx + dy * dy <= reach * reach) moves.push(mx, my);
  };
  if (v === undefined) {
    const first = Math.ceil((-reach - x) / u[0]);
    for (let i = first; i <= Math.floor((reach - x) / u[0]); i += 1) within(i * u[0], 0);
    return moves;
  }
  const area = u[0] * v[1] - u[1] * v[0];
  // The place in whole and broken steps: (x, y) = alpha u + beta v.
  const [alpha, beta] = [(x * v[1] - y * v[0]) / area, (y * u[0] - x * u[1]) / area];
  const alphas = (reach * Math.sqrt(v[0] * v[0] + v[1] * v[1])) / Math.abs(area);
  const betas = (reach * Math.sqrt(u[0] * u[0] + u[1] * u[1])) / Math.abs(area);
  for (let i = Math.ceil(-alpha - alphas); i <= Math.floor(-alpha + alphas); i += 1) {
    for (let j = Math.ceil(-beta - betas); j <= Math.floor(-beta + betas); j += 1) {
      within(i * u[0] + j * v[0], i * u[1] + j * v[1]);
    }
  }
  return moves;
}

/** The same place inside of the space's rectangle; in a band only along x. */
export function wrap({ width, height, u, v }: Space, x: number, y: number): readonly [number, number] {
  if (v === undefined) return [x - Math.floor(x / width) * width, y];
  if (v[0] === 0) {
    const column = Math.floor(x / width);
    const [wx, wy] = [x - column * u[0], y - column * u[1]];
    return [wx, wy - Math.floor(wy / height) * height];
  }
  const row = Math.floor(y / height);
  const [wx, wy] = [x - row * v[0], y - row * v[1]];
  return [wx - Math.floor(wx / width) * width, wy];
}
