import { type Affine, applyTo } from "../../geometry/affine.js";
import type { Motif } from "../../motif/types.js";
import type { Placement } from "../types.js";
import { TOLERANCE } from "./asked.js";
import { type Kind, lookAtKind } from "./kind.js";
import type { Piece } from "./piece.js";
import { type Space, wrap } from "./space.js";

/** A place that was wrapped is the same to the last digit, from whichever repeat it came. mm. */
const SNAP = 2 ** 20;

/** Motifs that stand already, as pieces that do not move; those that paint nothing are left out. */
export function takeStanding(
  around: readonly Placement[],
  space: Space,
  gap: number,
  margin: number,
): readonly Piece[] {
  const known = new Map<Motif, { readonly map: Affine; readonly kind: Kind | undefined }[]>();
  return around.flatMap(({ motif, map }): readonly Piece[] => {
    const looks = known.get(motif) ?? [];
    known.set(motif, looks);
    let look = looks.find((one) => sameShape(one.map, map));
    if (look === undefined) {
      // Baked in, since a placement may be stretched.
      const shape = { ...map, e: 0, f: 0 };
      look = { map, kind: lookAtKind(motif, { tolerance: gap * TOLERANCE, margin, gap, map: shape }) };
      looks.push(look);
    }
    const { kind } = look;
    if (kind === undefined) return [];
    const middle = applyTo(
      { a: 1, b: 0, c: 0, d: 1, e: map.e, f: map.f },
      { x: kind.middle[0], y: kind.middle[1] },
    );
    const [x, y] = wrap(space, snap(middle.x), snap(middle.y));
    return [
      {
        ...{
          kind,
          asked: -1,
          turns: { kind: "list", turns: [0] },
          fixed: true,
          mirrored: false,
          stiff: true,
        },
        ...{ x: snap(x), y: snap(y), turn: 0, scale: 1, a: 1, b: 0, c: 0, d: 1, radius: kind.radius },
      },
    ];
  });
}

const snap = (value: number): number => Math.round(value * SNAP) / SNAP;

const sameShape = (one: Affine, other: Affine): boolean =>
  one.a === other.a && one.b === other.b && one.c === other.c && one.d === other.d;
