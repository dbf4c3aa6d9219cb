import type { Point } from "./affine.js";
import type { Box } from "./box.js";
import { type SmoothMap, stretchAt } from "./smooth-map.js";

/** A place where a map folds over. */
export interface Fold {
  /** In the source of the map. */
  readonly from: Point;
  /** In its image. */
  readonly at: Point;
  /** The area factor there, as a share of the middle one: 0 or less where cloth would lie over itself. */
  readonly stretch: number;
}

/** Looks along each axis of the box. */
const LOOKS = 33;

/**
 * Where a map folds over inside a box: its area factor is looked at on a grid of 33 by 33, and the deepest places of
 * the grid are followed downhill between its lines. The worst fold of each neighbourhood is given, worst first;
 * an empty list says that none was found on that grid. For a patch, `decideFolds` can rule folds out.
 */
export function findFolds(map: SmoothMap, box: Box): readonly Fold[] {
  const place = (i: number, j: number): Point => ({
    x: box.x + (box.width * i) / (LOOKS - 1),
    y: box.y + (box.height * j) / (LOOKS - 1),
  });
  const grid = Array.from({ length: LOOKS * LOOKS }, (_, k) =>
    stretchAt(map, place(k % LOOKS, Math.floor(k / LOOKS))),
  );
  const middle = [...grid].sort((one, other) => one - other)[Math.floor(grid.length / 2)] ?? 0;
  const share = (point: Point): number => stretchAt(map, point) / (middle === 0 ? 1 : middle);
  const value = (i: number, j: number): number =>
    i < 0 || j < 0 || i >= LOOKS || j >= LOOKS
      ? Infinity
      : (grid[j * LOOKS + i] ?? 0) / (middle === 0 ? 1 : middle);
  const folds: Fold[] = [];
  for (let j = 0; j < LOOKS; j += 1)
    for (let i = 0; i < LOOKS; i += 1) {
      const here = value(i, j);
      // Only shallow places can hide a fold between lines; elsewhere a neighbour is lower.
      if (here > 0.5 || [-1, 0, 1].some((di) => [-1, 0, 1].some((dj) => value(i + di, j + dj) < here)))
        continue;
      const from = goDown(share, place(i, j), box);
      const stretch = share(from);
      if (stretch > 0) continue;
      const { x, y } = map(from.x, from.y);
      folds.push({ from, at: { x, y }, stretch });
    }
  return folds.sort((one, other) => one.stretch - other.stretch);
}

/** The lowest place near a start, by steps along the axes that halve when none leads down. */
function goDown(value: (point: Point) => number, start: Point, box: Box): Point {
  let [best, low] = [start, value(start)];
  let [stepX, stepY] = [box.width / (LOOKS - 1), box.height / (LOOKS - 1)];
  for (let round = 0; round < 40; round += 1) {
    const tries = [
      { x: best.x - stepX, y: best.y },
      { x: best.x + stepX, y: best.y },
      { x: best.x, y: best.y - stepY },
      { x: best.x, y: best.y + stepY },
    ].filter(({ x, y }) => x >= box.x && x <= box.x + box.width && y >= box.y && y <= box.y + box.height);
    const better = tries
      .map((point) => ({ point, height: value(point) }))
      .sort((one, other) => one.height - other.height)[0];
    if (better && better.height < low) [best, low] = [better.point, better.height];
    else [stepX, stepY] = [stepX / 2, stepY / 2];
  }
  return best;
}
