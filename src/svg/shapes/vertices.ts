import svgpath from "svgpath";

/** One vertex of a shape, and the angle in radians at which a marker on it points along the path. */
export interface Vertex {
  readonly x: number;
  readonly y: number;
  readonly angle: number;
}

type Vector = readonly [number, number];

interface Piece {
  readonly from: Vector;
  readonly to: Vector;
  /** Unit directions at both ends; `undefined` for a piece without length. */
  readonly leaving: Vector | undefined;
  readonly arriving: Vector | undefined;
}

interface Run {
  readonly start: Vector;
  readonly pieces: Piece[];
  closed: boolean;
}

/** The data of a shape that takes markers, as a path; `undefined` for shapes that take none. */
export function markedPath(name: string, attributes: Readonly<Record<string, string>>): string | undefined {
  switch (name) {
    case "path":
      return attributes.d;
    case "line": {
      const at = (key: string) => attributes[key] ?? "0";
      return `M${at("x1")} ${at("y1")} ${at("x2")} ${at("y2")}`;
    }
    case "polyline":
      return `M${attributes.points ?? ""}`;
    case "polygon":
      return `M${attributes.points ?? ""}Z`;
    default:
      return undefined;
  }
}

/** The vertices of a path in order, with their directions: SVG 2, chapter Painting, "Vertex markers". */
export function verticesOf(d: string): readonly Vertex[] {
  return readRuns(d).flatMap(({ start, pieces, closed }) => {
    const points = [start, ...pieces.map((piece) => piece.to)];
    return points.map(([x, y], index): Vertex => {
      const wraps = closed && (index === 0 || index === pieces.length);
      const before = wraps ? pieces.length - 1 : index - 1;
      const after = wraps ? 0 : index;
      return { x, y, angle: turnBetween(lookBack(pieces, before), lookAhead(pieces, after)) };
    });
  });
}

const lookBack = (pieces: readonly Piece[], from: number): Vector | undefined => {
  for (let index = from; index >= 0; index--) {
    const way = pieces[index]?.arriving;
    if (way !== undefined) return way;
  }
  return undefined;
};

const lookAhead = (pieces: readonly Piece[], from: number): Vector | undefined => {
  for (let index = from; index < pieces.length; index++) {
    const way = pieces[index]?.leaving;
    if (way !== undefined) return way;
  }
  return undefined;
};

/** Half way between the direction of arriving and that of leaving; straight back turns a quarter. */
function turnBetween(arriving: Vector | undefined, leaving: Vector | undefined): number {
  const [one, other] = [arriving ?? leaving, leaving ?? arriving];
  if (one === undefined || other === undefined) return 0;
  const first = Math.atan2(one[1], one[0]);
  const turn = Math.atan2(one[0] * other[1] - one[1] * other[0], one[0] * other[0] + one[1] * other[1]);
  return first + turn / 2;
}

function readRuns(d: string): readonly Run[] {
  const runs: Run[] = [];
  svgpath(d)
    .abs()
    .unshort()
    .iterate((segment, _index, x, y) => {
      const [command, ...numbers] = segment as readonly [string, ...number[]];
      const from: Vector = [x, y];
      const run = runs.at(-1);
      if (command === "M" || run === undefined) {
        runs.push({ start: [numbers[0] ?? 0, numbers[1] ?? 0], pieces: [], closed: false });
        return;
      }
      // What follows a close without a move starts where the closed run did.
      const open = run.closed ? { start: run.start, pieces: [], closed: false } : run;
      if (open !== run) runs.push(open);
      if (command.toLowerCase() === "z") {
        open.pieces.push(piece([from, open.start]));
        open.closed = true;
      } else open.pieces.push(piece(controlPoints(command, numbers, from)));
    });
  return runs;
}

/** All points that shape a piece, ends included. */
function controlPoints(command: string, numbers: readonly number[], from: Vector): readonly Vector[] {
  if (command === "H") return [from, [numbers[0] ?? 0, from[1]]];
  if (command === "V") return [from, [from[0], numbers[0] ?? 0]];
  if (command === "A") return arcPoints(numbers, from);
  const points: Vector[] = [from];
  for (let index = 0; index + 1 < numbers.length; index += 2) {
    points.push([numbers[index] ?? 0, numbers[index + 1] ?? 0]);
  }
  return points;
}

/** An arc as the points of the curves that stand for it; their outer ones point along it exactly. */
function arcPoints(numbers: readonly number[], from: Vector): readonly Vector[] {
  const points: Vector[] = [from];
  svgpath(`M${from.join(" ")}A${numbers.join(" ")}`)
    .unarc()
    .iterate((segment) => {
      const [command, ...rest] = segment as readonly [string, ...number[]];
      if (command === "M") return;
      for (let index = 0; index + 1 < rest.length; index += 2)
        points.push([rest[index] ?? 0, rest[index + 1] ?? 0]);
    });
  return points;
}

function piece(points: readonly Vector[]): Piece {
  const from = points[0] ?? [0, 0];
  const to = points.at(-1) ?? from;
  const leaving = points.map((point) => way(from, point)).find((one) => one !== undefined);
  const arriving = points
    .map((point) => way(point, to))
    .reverse()
    .find((one) => one !== undefined);
  return { from, to, leaving, arriving };
}

function way(from: Vector, to: Vector): Vector | undefined {
  const [x, y] = [to[0] - from[0], to[1] - from[1]];
  const length = Math.hypot(x, y);
  return length > 0 ? [x / length, y / length] : undefined;
}
