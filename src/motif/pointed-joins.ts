/**
 * The points of a stroke's mitred joins, as triangles beside the run: SVG 2, `stroke-miterlimit`. A join that is sharper
 * than the limit has none. `radius` is half the stroke's width, in the units of the run; the run is flat, x then y.
 */
export function pointedJoins(
  run: Float64Array,
  closed: boolean,
  radius: number,
  limit: number,
): readonly Float64Array[] {
  const joins: Float64Array[] = [];
  if (limit < 1 || radius === 0) return joins;
  const count = run.length / 2;
  const at = (k: number): readonly [number, number] => [run[2 * k] ?? 0, run[2 * k + 1] ?? 0];
  for (let k = closed ? 0 : 1; k < count - 1; k += 1) {
    const before = at(k === 0 ? count - 2 : k - 1);
    const [here, after] = [at(k), at(k + 1)];
    const arriving = way(before, here);
    const leaving = way(here, after);
    if (arriving === undefined || leaving === undefined) continue;
    const cosine = arriving[0] * leaving[0] + arriving[1] * leaving[1];
    if (cosine > NEARLY_STRAIGHT) continue;
    const sine = Math.sqrt(Math.max(0, (1 + cosine) / 2));
    if (sine === 0 || 1 / sine > limit) continue;
    // The outer side is the left one where the run turns to the right.
    const side = arriving[0] * leaving[1] - arriving[1] * leaving[0] > 0 ? radius : -radius;
    const one = [here[0] + arriving[1] * side, here[1] - arriving[0] * side] as const;
    const other = [here[0] + leaving[1] * side, here[1] - leaving[0] * side] as const;
    const along = (radius * Math.sqrt(Math.max(0, 1 - sine * sine))) / sine;
    const tip = [one[0] + arriving[0] * along, one[1] + arriving[1] * along] as const;
    joins.push(Float64Array.from([...here, ...one, ...tip, ...other, ...here]));
  }
  return joins;
}

/** A point at a bend of less than 20 degrees stands out by under 1.6 % of half the width. */
const NEARLY_STRAIGHT = 0.94;

type Way = readonly [number, number];

function way(from: Way, to: Way): Way | undefined {
  const [x, y] = [to[0] - from[0], to[1] - from[1]];
  const length = Math.sqrt(x * x + y * y);
  return length > 0 ? [x / length, y / length] : undefined;
}
