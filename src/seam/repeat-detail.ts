import type { LabPicture } from "./repeat-picture.js";

/** Running means of one plane over `2 * radius + 1` samples along one axis; windows are cut at the ends. */
function meanLines(
  plane: Float32Array,
  lines: number,
  length: number,
  step: number,
  stride: number,
  radius: number,
): Float32Array {
  const into = new Float32Array(plane.length);
  for (let line = 0; line < lines; line++) {
    const at = (k: number) => line * stride + k * step;
    let sum = 0;
    let count = 0;
    for (let k = 0; k < Math.min(radius, length); k++) {
      sum += plane[at(k)] as number;
      count++;
    }
    for (let k = 0; k < length; k++) {
      if (k + radius < length) {
        sum += plane[at(k + radius)] as number;
        count++;
      }
      if (k - radius - 1 >= 0) {
        sum -= plane[at(k - radius - 1)] as number;
        count--;
      }
      into[at(k)] = sum / count;
    }
  }
  return into;
}

/** Means over squares of `2 * radius + 1` pixels. */
export function meanSquares(
  plane: Float32Array,
  width: number,
  height: number,
  radius: number,
): Float32Array {
  const rows = meanLines(plane, height, width, 1, width, radius);
  return meanLines(rows, width, height, width, 1, radius);
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
    const fine = meanSquares(plane, width, height, 1);
    const broad = meanSquares(plane, width, height, radius);
    const detail = new Float32Array(across * down);
    for (let y = 0; y < down; y++)
      for (let x = 0; x < across; x++) {
        const from = (y + rim) * width + x + rim;
        detail[y * across + x] = (fine[from] as number) - (broad[from] as number);
      }
    return detail;
  });
  return { ...picture, width: across, height: down, planes };
}
