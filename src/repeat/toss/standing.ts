import { type Affine, applyTo } from "../../geometry/affine.js";
import type { Motif } from "../../motif/types.js";
import { TOLERANCE } from "./asked.js";
import type { Cut } from "./cut.js";
import { type Kind, lookAtKind } from "./kind.js";
import type { Piece } from "./piece.js";
import { type Space, wrap } from "./space.js";

/** A place that was wrapped is the same to the last digit, from whichever repeat it came. mm. */
const SNAP = 2 ** 20;

/** A motif that stands, in mm of the space. */
export interface Standing {
  readonly motif: Motif;
  readonly map: Affine;
  /** Where it is cut off; it shows as a whole, where this is missing. */
  readonly cut?: Cut | undefined;
}

/** Motifs that stand already, as pieces that do not move; those that paint nothing are left out. */
export function takeStanding(
  around: readonly Standing[],
  asked: number,
  space: Space,
  gap: number,
  margin: number,
): readonly Piece[] {
  const known = new Map<Motif, { readonly standing: Standing; readonly kind: Kind | undefined }[]>();
  return around.flatMap((standing): readonly Piece[] => {
    const { motif, map, cut } = standing;
    const looks = known.get(motif) ?? [];
    known.set(motif, looks);
    let look = looks.find((one) => sameShape(one.standing, standing));
    // A cut shape is cut where it stands; the others may stand anywhere.
    const level = cut === undefined ? 0 : map.f;
    if (look === undefined) {
      // Baked in, since a placement may be stretched.
      const shape = { ...map, e: 0, f: level };
      look = {
        standing,
        kind: lookAtKind(motif, { tolerance: gap * TOLERANCE, margin, gap, map: shape, cut }),
      };
      looks.push(look);
    }
    const { kind } = look;
    if (kind === undefined) return [];
    const middle = applyTo(
      { a: 1, b: 0, c: 0, d: 1, e: map.e, f: map.f - level },
      { x: kind.middle[0], y: kind.middle[1] },
    );
    const [x, y] = wrap(space, snap(middle.x), snap(middle.y));
    return [
      {
        ...{ kind, asked, turns: { kind: "list", turns: [0] }, fixed: true, mirrored: false, stiff: true },
        ...{ x: snap(x), y: snap(y), turn: 0, scale: 1, a: 1, b: 0, c: 0, d: 1, radius: kind.radius },
      },
    ];
  });
}

const snap = (value: number): number => Math.round(value * SNAP) / SNAP;

const sameShape = (one: Standing, other: Standing): boolean =>
  one.map.a === other.map.a &&
  one.map.b === other.map.b &&
  one.map.c === other.map.c &&
  one.map.d === other.map.d &&
  one.cut?.top === other.cut?.top &&
  one.cut?.bottom === other.cut?.bottom &&
  (one.cut === undefined || one.map.f === other.map.f);
