import type { LabPicture } from "./picture.js";

/** Means over `2 * radius + 1` pixels of each row; windows are cut at the ends. */
function meanRows(plane: Float32Array, width: number, height: number, radius: number): Float32Array {
  const into = new Float32Array(plane.length);
  for (let y = 0; y < height; y++) {
    const start = y * width;
    let sum = 0;
    for (let x = 0; x < Math.min(radius, width); x++) sum += plane[start + x] as number;
    for (let x = 0; x < width; x++) {
      if (x + radius < width) sum += plane[start + x + radius] as number;
      if (x > radius) sum -= plane[start + x - radius - 1] as number;
      into[start + x] = sum / (Math.min(width - 1, x + radius) - Math.max(0, x - radius) + 1);
    }
  }
  return into;
}

/** Means over squares of `2 * radius + 1` pixels. Columns are summed a row at a time, as they lie in memory. */
export function meanSquares(
  plane: Float32Array,
  width: number,
  height: number,
  radius: number,
): Float32Array {
  const rows = meanRows(plane, width, height, radius);
  const into = new Float32Array(plane.length);
  const sums = new Float64Array(width);
  const add = (y: number, sign: number): void => {
    for (let x = 0; x < width; x++) sums[x] = (sums[x] as number) + sign * (rows[y * width + x] as number);
  };
  for (let y = 0; y < Math.min(radius, height); y++) add(y, 1);
  for (let y = 0; y < height; y++) {
    if (y + radius < height) add(y + radius, 1);
    if (y > radius) add(y - radius - 1, -1);
    const count = Math.min(height - 1, y + radius) - Math.max(0, y - radius) + 1;
    for (let x = 0; x < width; x++) into[y * width + x] = (sums[x] as number) / count;
  }
  return into;
}

/** A plane of one value (the opacity of an opaque picture, the colour of a grey one) tells nothing. */
const isUneven = (plane: Float32Array): boolean =>
  plane.some((value) => Math.abs(value - (plane[0] as number)) > 1e-3);

/** Means over 3 x 3 pixels, so that a fraction of a pixel matters less; only the planes that tell something. */
export function softenPicture(picture: LabPicture): LabPicture {
  const { width, height, planes } = picture;
  return { ...picture, planes: planes.filter(isUneven).map((plane) => meanSquares(plane, width, height, 1)) };
}

/**
 * What stands out from its surroundings: every plane less its mean over squares, so that uneven light does not count. The
 * rim, where the squares are cut, is left away with `trim`.
 */
export function detailOf(picture: LabPicture, radius: number, trim: boolean): LabPicture {
  const { width, height } = picture;
  const rim = trim ? radius : 0;
  const [across, down] = [width - 2 * rim, height - 2 * rim];
  const planes = picture.planes.map((plane) => {
    const broad = meanSquares(plane, width, height, radius);
    const detail = new Float32Array(across * down);
    for (let y = 0; y < down; y++)
      for (let x = 0; x < across; x++) {
        const from = (y + rim) * width + x + rim;
        detail[y * across + x] = (plane[from] as number) - (broad[from] as number);
      }
    return detail;
  });
  return { ...picture, width: across, height: down, planes };
}
