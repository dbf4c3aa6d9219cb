import { RepetendError } from "../../errors.js";
import type { Point } from "../../geometry/affine.js";
import { measureCurve } from "../../geometry/arc-length.js";
import type { Box } from "../../geometry/box.js";
import { directionOn, partOfCubic, pointOn, reverseCubic } from "../../geometry/cubic.js";
import {
  type Cubic,
  type CubicPath,
  cubicsOf,
  joinCubics,
  type Subpath,
  straightCubic,
} from "../../geometry/cubic-path.js";
import { pathArea } from "../../geometry/flatten.js";
import { nearestOnCubics } from "../../geometry/nearest.js";
import { pathBounds } from "../../geometry/path-bounds.js";

/** Top left, top right, bottom right and bottom left corner of a panel, in user units of the sketch. */
export type Corners = readonly [Point, Point, Point, Point];

/** The outline of a panel as four edges: top and bottom from left to right, the sides from top to bottom. */
export interface PanelEdges {
  readonly top: Subpath;
  readonly right: Subpath;
  readonly bottom: Subpath;
  readonly left: Subpath;
}

/** A turn of the outline by less than this, in degrees, is a curve drawn in pieces and no corner. */
const CORNER_TURN = 20;

/** The largest run of an outline, closed by a straight line where it is open: what is left is holes and details. */
export function outerRun(outline: CubicPath): readonly Cubic[] {
  const areas = outline.subpaths.map((run) => Math.abs(pathArea({ subpaths: [run] })));
  const run = outline.subpaths[areas.indexOf(Math.max(...areas))];
  if (run === undefined) return [];
  const cubics = cubicsOf(run).filter((cubic) => cubic.some((value, k) => value !== cubic[(k % 2) as 0 | 1]));
  const [first, last] = [cubics[0], cubics[cubics.length - 1]];
  if (!first || !last || (first[0] === last[6] && first[1] === last[7])) return cubics;
  return [...cubics, straightCubic(last[6], last[7], first[0], first[1])];
}

/**
 * Cuts an outline into its four edges, at the given corners or at those that are found: of the places where the
 * outline turns by 20 degrees or more, the four that reach farthest towards the corners of its box. Given corners are drawn onto
 * the outline.
 *
 * @throws RepetendError `E_LAYOUT` when four different corners, in order, are not found.
 */
export function cutEdges(outline: CubicPath, given: Corners | undefined, name: string): PanelEdges {
  const run = outerRun(outline);
  const box = pathBounds({ subpaths: [joinCubics(run, true)] });
  if (box === undefined || run.length === 0) throw noCorners(name, "the panel has no outline");
  // Clockwise on the page, so that the top edge runs from left to right.
  const clockwise =
    pathArea({ subpaths: [joinCubics(run, true)] }) >= 0 ? run : [...run].reverse().map(reverseCubic);
  const places = (given ?? findCorners(clockwise, box)).map((corner) => {
    const nearest = nearestOnCubics(clockwise, corner);
    if (nearest === undefined) throw noCorners(name, "the panel has no outline");
    // A place at a joint counts with the cubic that follows, so that no sliver of one is cut off.
    const whole = nearest.index + nearest.t;
    const joint = Math.round(whole);
    const near = pointOn(clockwise[joint % clockwise.length] ?? [0, 0, 0, 0, 0, 0, 0, 0], 0);
    const slack = 1e-6 * Math.max(box.width, box.height);
    return Math.hypot(near.x - nearest.x, near.y - nearest.y) < slack ? joint % clockwise.length : whole;
  });
  const [one = 0, two = 0, three = 0, four = 0] = places;
  const count = clockwise.length;
  const after = (place: number): number => (place - one + count) % count;
  if (!(0 < after(two) && after(two) < after(three) && after(three) < after(four)))
    throw noCorners(name, "four corners that follow each other round the panel are not found");
  const section = (from: number, to: number): readonly Cubic[] => cutSection(clockwise, from, to);
  const backwards = (cubics: readonly Cubic[]): readonly Cubic[] => [...cubics].reverse().map(reverseCubic);
  return {
    top: joinCubics(section(one, two), false),
    right: joinCubics(section(two, three), false),
    bottom: joinCubics(backwards(section(three, four)), false),
    left: joinCubics(backwards(section(four, one)), false),
  };
}

function noCorners(name: string, problem: string): RepetendError {
  return new RepetendError("E_LAYOUT", problem, {
    where: name,
    accepted: "corners: [top left, top right, bottom right, bottom left], in user units of the sketch",
  });
}

/** More sharp places than this are details, such as scallops: the sharpest are kept. */
const MOST_CORNERS = 24;

interface Candidate extends Point {
  /** Place on the run: the index of its cubic, and the parameter. */
  readonly at: number;
  /** The cosine of the turn: small where it is sharp. */
  readonly cosine: number;
}

/**
 * The four corners: of all ways to choose four candidates in order round the panel, the one whose corners reach
 * farthest, together, towards the corners of the box.
 */
function findCorners(run: readonly Cubic[], box: Box): Corners {
  const reach = (towardsX: number, towardsY: number, { x, y }: Point): number =>
    (towardsX * (x - box.x)) / (box.width || 1) + (towardsY * (y - box.y)) / (box.height || 1);
  const candidates = listCandidates(run, reach);
  const scores = candidates.map((one) => TOWARDS.map(([x, y]) => reach(x, y, one)));
  const count = candidates.length;
  let best = { score: -Infinity, corners: [0, 0, 0, 0] as readonly number[] };
  // Round from each candidate as the first corner, the others after it in order.
  for (let one = 0; one < count; one += 1)
    for (let two = 1; two < count - 2; two += 1)
      for (let three = two + 1; three < count - 1; three += 1)
        for (let four = three + 1; four < count; four += 1) {
          const corners = [one, (one + two) % count, (one + three) % count, (one + four) % count];
          const score = corners.reduce((sum, index, k) => sum + (scores[index]?.[k] ?? 0), 0);
          if (score > best.score + 1e-9) best = { score, corners };
        }
  const corner = (k: number): Point => candidates[best.corners[k] ?? 0] ?? { x: box.x, y: box.y };
  return [corner(0), corner(1), corner(2), corner(3)];
}

const TOWARDS = [
  [-1, -1],
  [1, -1],
  [1, 1],
  [-1, 1],
] as const;

/** Sharp places in order round the panel; on a round panel also the places farthest towards the corners. */
function listCandidates(
  run: readonly Cubic[],
  reach: (towardsX: number, towardsY: number, point: Point) => number,
): readonly Candidate[] {
  const joints = run.map((cubic, at): Candidate => {
    const before = directionOn(run[(at - 1 + run.length) % run.length] ?? cubic, 1);
    const after = directionOn(cubic, 0);
    const cosine = before && after ? before.x * after.x + before.y * after.y : 1;
    return { x: cubic[0], y: cubic[1], at, cosine };
  });
  const sharp = joints
    .filter(({ cosine }) => cosine < Math.cos((CORNER_TURN * Math.PI) / 180))
    .sort((one, other) => one.cosine - other.cosine)
    .slice(0, MOST_CORNERS);
  if (sharp.length < 4) {
    const anywhere = run.flatMap((cubic, index) =>
      Array.from(
        { length: 16 },
        (_, k): Candidate => ({ ...pointOn(cubic, k / 16), at: index + k / 16, cosine: 1 }),
      ),
    );
    for (const [x, y] of TOWARDS) {
      const farthest = anywhere.reduce((best, one) =>
        reach(x, y, one) > reach(x, y, best) + 1e-9 ? one : best,
      );
      if (!sharp.some(({ at }) => at === farthest.at)) sharp.push(farthest);
    }
  }
  return sharp.sort((one, other) => one.at - other.at);
}

/** The part of a closed run between two places, each a cubic's index and parameter in one number. */
function cutSection(run: readonly Cubic[], from: number, to: number): readonly Cubic[] {
  const end = to > from ? to : to + run.length;
  const cubics: Cubic[] = [];
  for (let k = Math.floor(from); k < end; k += 1) {
    const cubic = run[k % run.length];
    const [low, high] = [Math.max(0, from - k), Math.min(1, end - k)];
    if (cubic && high > low) cubics.push(partOfCubic(cubic, low, high));
  }
  return cubics;
}

/** The lengths of four edges, in user units of the sketch. */
export function edgeLengths(edges: PanelEdges): Readonly<Record<keyof PanelEdges, number>> {
  const length = (run: Subpath): number => measureCurve(cubicsOf(run)).length;
  return {
    top: length(edges.top),
    right: length(edges.right),
    bottom: length(edges.bottom),
    left: length(edges.left),
  };
}
