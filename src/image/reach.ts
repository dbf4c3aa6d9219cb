/** How far something reaches on each axis, in pixels, and over which edges the picture goes on. */
export interface Reach {
  /** 0 to 250. The two differ where the resolution does. */
  readonly x: number;
  readonly y: number;
  /** Whether what leaves one edge comes in at the other. */
  readonly wrapX: boolean;
  readonly wrapY: boolean;
}

/** Farther than this is not looked for; one byte a pixel holds the distance. */
export const LONGEST_REACH = 250;
const FAR = 255;

/** For each pixel, how many rows up or down the nearest seed of its column is; 255 for farther than `most`. */
function measureColumns(
  seeds: Uint8Array,
  width: number,
  height: number,
  most: number,
  wrap: boolean,
): Uint8Array {
  const rows = new Uint8Array(width * height).fill(FAR);
  const sweep = (step: 1 | -1): void => {
    const known = new Uint8Array(width).fill(FAR);
    // Over a joined edge the first sweep brings what the second starts with.
    const start = wrap ? -Math.min(height, most) : 0;
    for (let at = start; at < height; at++) {
      const wrapped = at < 0 ? at + height : at;
      const row = (step === 1 ? wrapped : height - 1 - wrapped) * width;
      for (let x = 0; x < width; x++) {
        const before = known[x] as number;
        const distance = seeds[row + x] === 0 ? (before >= most ? FAR : before + 1) : 0;
        known[x] = distance;
        if (distance < (rows[row + x] as number)) rows[row + x] = distance;
      }
    }
  };
  sweep(1);
  sweep(-1);
  return rows;
}

/**
 * Which pixels lie within a distance of seeds, exactly: by the ellipse of the reach around the middle of each seed, a
 * circle where pixels are square. In each row, a seed so many rows away covers one stretch of columns; the stretches are
 * added up (after the two passes of A. Meijster, J. Roerdink, W. Hesselink, "A general algorithm for computing distance
 * transforms in linear time", 2000, section 2).
 *
 * @param seeds one byte a pixel, 0 for none.
 * @returns one byte a pixel: 1 within reach, seeds included.
 */
export function findReach(seeds: Uint8Array, width: number, height: number, reach: Reach): Uint8Array {
  const { x: across, y: down, wrapX, wrapY } = reach;
  const most = Math.floor(down);
  const rows = measureColumns(seeds, width, height, most, wrapY);
  const half = Array.from({ length: most + 1 }, (_, row) => {
    const share = down === 0 ? 0 : row / down;
    return Math.floor(across * Math.sqrt(Math.max(0, 1 - share * share)) + 1e-9);
  });
  const found = new Uint8Array(width * height);
  const changes = new Int32Array(width + 1);
  const cover = (from: number, to: number): void => {
    changes[from] = (changes[from] as number) + 1;
    changes[to] = (changes[to] as number) - 1;
  };
  for (let y = 0; y < height; y++) {
    const row = y * width;
    changes.fill(0);
    let any = false;
    for (let x = 0; x < width; x++) {
      const distance = rows[row + x] as number;
      if (distance === FAR) continue;
      any = true;
      const side = half[distance] as number;
      if (2 * side + 1 >= width) {
        if (wrapX) cover(0, width);
        else cover(Math.max(0, x - side), Math.min(width, x + side + 1));
        continue;
      }
      const [from, to] = [x - side, x + side + 1];
      cover(Math.max(0, from), Math.min(width, to));
      if (wrapX && from < 0) cover(from + width, width);
      if (wrapX && to > width) cover(0, to - width);
    }
    if (!any) continue;
    let open = 0;
    for (let x = 0; x < width; x++) {
      open += changes[x] as number;
      if (open > 0) found[row + x] = 1;
    }
  }
  return found;
}
