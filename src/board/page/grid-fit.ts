import type { Box } from "../../geometry/box.js";

interface Size {
  readonly width: number;
  readonly height: number;
}

/** How pictures stand in rows and columns. */
export interface GridFit {
  /** Mm of the page for one of the sizes that were given. */
  readonly scale: number;
  /** Of each picture, from the corner of the room. */
  readonly places: readonly Box[];
  readonly columns: number;
}

/** What lies between and under pictures, in mm of the page. */
export interface GridGaps {
  readonly gap: number;
  /** Room below each picture, for its name. Default 0. */
  readonly caption?: number;
  /** The largest scale. Default: none. */
  readonly most?: number;
  /** What a scale becomes, for example one that can be said. Default: itself. */
  readonly round?: (scale: number) => number;
  /** Whether rows are spread over the height of the room. Default false: they stand as high up as they can. */
  readonly spread?: boolean;
}

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

/** The largest of every column, or of every row. */
function largest(count: number, values: readonly number[], slot: (k: number) => number): readonly number[] {
  const most = new Array<number>(count).fill(0);
  for (const [k, value] of values.entries()) most[slot(k)] = Math.max(most[slot(k)] ?? 0, value);
  return most;
}

/**
 * Pictures at one scale in rows and columns of a room, in the number of columns in which they are largest. Each has its
 * middle on that of its column, and its top on that of its row. `undefined` where there is no room.
 */
export function fitGrid(
  sizes: readonly Size[],
  room: Size,
  { gap, caption = 0, most = Infinity, round = (scale) => scale, spread = false }: GridGaps,
): GridFit | undefined {
  let best: GridFit | undefined;
  for (let columns = 1; columns <= sizes.length; columns += 1) {
    const rows = Math.ceil(sizes.length / columns);
    const wide = room.width - (columns - 1) * gap;
    const high = room.height - (rows - 1) * gap - rows * caption;
    if (wide <= 0) break;
    if (high <= 0) continue;
    // As many columns as are filled.
    if (columns > 1 && Math.ceil(sizes.length / rows) < columns) continue;
    const widths = largest(
      columns,
      sizes.map(({ width }) => width),
      (k) => k % columns,
    );
    const heights = largest(
      rows,
      sizes.map(({ height }) => height),
      (k) => Math.floor(k / columns),
    );
    const exact = Math.min(most, wide / sum(widths), high / sum(heights));
    if (!(exact > 0)) continue;
    const scale = round(exact);
    if (best !== undefined && scale <= best.scale) continue;
    const aside = (wide - scale * sum(widths)) / (2 * columns);
    const over = spread && rows > 1 ? (high - scale * sum(heights)) / (rows - 1) : 0;
    const places = sizes.map(({ width, height }, k): Box => {
      const [column, row] = [k % columns, Math.floor(k / columns)];
      const before = column * gap + scale * sum(widths.slice(0, column)) + (2 * column + 1) * aside;
      const x = before + (scale * ((widths[column] ?? 0) - width)) / 2;
      const y = row * (gap + caption + over) + scale * sum(heights.slice(0, row));
      return { x, y, width: scale * width, height: scale * height };
    });
    best = { scale, places, columns };
  }
  return best;
}
