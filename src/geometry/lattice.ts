import type { Box } from "./box.js";

/** An exact fraction of a cell, in lowest terms: `0 <= p < q`. */
export interface Step {
  readonly p: number;
  readonly q: number;
}

/**
 * How cells of one size lie to each other. With `along: "column"` each next column is lower by `step` of the height;
 * with `along: "row"` each next row is moved along by `step` of the width. Lengths in any one unit.
 */
export interface Lattice {
  readonly width: number;
  readonly height: number;
  readonly along: "column" | "row";
  readonly step: Step;
}

/**
 * One lattice point inside the rectangle: its place, and whole numbers that give its order on the endless lattice
 * (`columnKey` grows along x, `rowKey` down y), so that no float ever decides what is painted first.
 */
export interface Station {
  readonly x: number;
  readonly y: number;
  readonly columnKey: number;
  readonly rowKey: number;
}

/** The smallest upright rectangle that repeats by itself, with the lattice points inside it. */
export interface LatticeRectangle {
  readonly width: number;
  /** `undefined` for a lattice that repeats along x only. */
  readonly height: number | undefined;
  readonly stations: readonly Station[];
  /** How much `columnKey` grows from one rectangle to the next along x, and `rowKey` down y. */
  readonly columnKeys: number;
  readonly rowKeys: number;
}

/** One copy: the station it comes from, and by how many whole rectangles it is moved. */
export interface LatticeCopy {
  readonly station: Station;
  readonly across: number;
  readonly down: number;
}

/** The place of a lattice point: whole numbers of cells, so that both edges of a tile get the same numbers. */
export function latticePoint(lattice: Lattice, column: number, row: number): { x: number; y: number } {
  const { p, q } = lattice.step;
  return lattice.along === "column"
    ? { x: column * lattice.width, y: (row * q + column * p) * (lattice.height / q) }
    : { x: (column * q + row * p) * (lattice.width / q), y: row * lattice.height };
}

/** The rectangle of a lattice: q columns wide for a step along columns, q rows tall for one along rows. */
export function latticeRectangle(lattice: Lattice): LatticeRectangle {
  const { p, q } = lattice.step;
  const byColumn = lattice.along === "column";
  const stations = Array.from({ length: q }, (_, k): Station => {
    const moved = (k * p) % q;
    return byColumn
      ? { x: k * lattice.width, y: moved * (lattice.height / q), columnKey: k, rowKey: moved }
      : { x: moved * (lattice.width / q), y: k * lattice.height, columnKey: moved, rowKey: k };
  });
  return {
    width: byColumn ? q * lattice.width : lattice.width,
    height: byColumn ? lattice.height : q * lattice.height,
    stations,
    columnKeys: q,
    rowKeys: q,
  };
}

/** A rectangle that repeats along x only, with `count` evenly spaced stations. */
export function runningRectangle(width: number, count: number): LatticeRectangle {
  return {
    width,
    height: undefined,
    stations: Array.from({ length: count }, (_, k) => ({
      x: (k * width) / count,
      y: 0,
      columnKey: k,
      rowKey: 0,
    })),
    columnKeys: count,
    rowKeys: 1,
  };
}

/** Every whole k for which the interval [from, to] moved by k * period may reach into (low, high). */
function reaching(from: number, to: number, period: number, low: number, high: number): readonly number[] {
  const first = Math.ceil((low - to) / period);
  const last = Math.floor((high - from) / period);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, k) => first + k);
}

/**
 * All copies of a thing with this reach that show in a window, in paint order: from the top row down, and along x
 * within a row. The order depends on the lattice only, so it is the same at every edge of every tile.
 */
export function copiesInWindow(rectangle: LatticeRectangle, reach: Box, window: Box): readonly LatticeCopy[] {
  const { width, height } = rectangle;
  const copies: LatticeCopy[] = [];
  for (const station of rectangle.stations) {
    const left = reach.x + station.x;
    const top = reach.y + station.y;
    const [windowRight, windowBottom] = [window.x + window.width, window.y + window.height];
    const downs =
      height === undefined
        ? top + reach.height >= window.y && top <= windowBottom
          ? [0]
          : []
        : reaching(top, top + reach.height, height, window.y, windowBottom);
    const acrosses = reaching(left, left + reach.width, width, window.x, windowRight);
    for (const down of downs) for (const across of acrosses) copies.push({ station, across, down });
  }
  const rowKey = (copy: LatticeCopy) => copy.station.rowKey + copy.down * rectangle.rowKeys;
  const columnKey = (copy: LatticeCopy) => copy.station.columnKey + copy.across * rectangle.columnKeys;
  return copies.sort((one, other) => rowKey(one) - rowKey(other) || columnKey(one) - columnKey(other));
}
