import { applyTo, type Point } from "../../geometry/index.js";
import { latticeRectangle } from "../../geometry/lattice.js";
import { latticeOf, type Placement, type Print } from "../../repeat/index.js";
import { acrossStripes } from "./normal.js";
import type { LiningCause, LiningStripe } from "./types.js";

/** One motif where it stands, its middle and half its reach, in mm. */
interface Standing {
  readonly name: string;
  readonly x: number;
  readonly y: number;
  readonly halfWidth: number;
  readonly halfHeight: number;
}

/** Every motif of the rectangle that repeats, once for each of its places. */
function listStanding(print: Print): readonly Standing[] {
  const stand = ({ motif, map, reach }: Placement, by: Point): Standing => {
    const { viewBox } = motif;
    const middle = applyTo(map, {
      x: viewBox.x + viewBox.width / 2,
      y: viewBox.y + viewBox.height / 2,
    });
    return {
      name: motif.name,
      x: middle.x + by.x,
      y: middle.y + by.y,
      halfWidth: reach.width / 2,
      halfHeight: reach.height / 2,
    };
  };
  if (print.kind === "border")
    return print.bands.flatMap((band) =>
      band.motifs.flatMap((one) =>
        Array.from({ length: band.count }, (_, k) =>
          stand(one, { x: (k * print.repeat) / band.count, y: 0 }),
        ),
      ),
    );
  const { stations } = latticeRectangle(latticeOf(print));
  return print.motifs.flatMap((one) => stations.map((station) => stand(one, station)));
}

const modulo = (value: number, by: number): number => ((value % by) + by) % by;

/** The middle of the stripe is covered by less than this share of the mean: a gap. */
const GAP = 0.5;

/**
 * What makes a stripe: a gap, where hardly any motif's reach projects on its middle; otherwise the motifs whose middles project
 * within its width.
 */
export function nameCauses(print: Print, stripe: LiningStripe): readonly LiningCause[] {
  const { x: nx, y: ny } = acrossStripes(stripe.angle);
  const standing = listStanding(print);
  const away = (one: Standing, from: number): number => {
    const along = modulo(one.x * nx + one.y * ny - from, stripe.period);
    return Math.min(along, stripe.period - along);
  };
  const reachOf = (one: Standing) => Math.abs(nx) * one.halfWidth + Math.abs(ny) * one.halfHeight;
  const coverAt = (from: number) => standing.filter((one) => away(one, from) < reachOf(one)).length;
  const places = Array.from({ length: 64 }, (_, k) => (k * stripe.period) / 64);
  const mean = places.reduce((sum, from) => sum + coverAt(from), 0) / places.length;
  const half = stripe.width / 2;
  if (coverAt(stripe.position) < GAP * mean)
    return [{ kind: "gap", from: stripe.position - half, to: stripe.position + half }];
  const inside = standing.filter((one) => away(one, stripe.position) <= Math.max(half, stripe.period / 16));
  const names = [...new Set(inside.map((one) => one.name))];
  return names.map((name) => ({
    kind: "motif",
    motif: name,
    at: inside.filter((one) => one.name === name).map(({ x, y }) => ({ x, y })),
  }));
}
