import { RepetendError } from "../../errors.js";
import { IDENTITY } from "../../geometry/affine.js";
import { type Length, mm } from "../../units/index.js";
import { satin, stepped, straight } from "../build/all-over.js";
import { latticeOf } from "../draw/lattice-of.js";
import { type Kind, lookAtKind } from "./kind.js";
import type { TossBand, TossCell, TossMotif, TossOptions } from "./options.js";
import { bandSpace, cellSpace, type Space } from "./space.js";
import { readTurns, type Turns } from "./turns.js";

/** One motif to toss, read. Scales lead from its units to mm. */
export interface Ask {
  readonly index: number;
  readonly kind: Kind;
  readonly smallest: number;
  readonly largest: number;
  readonly share: number;
  readonly filler: boolean;
  readonly turns: Turns;
  readonly flip: boolean;
}

/** More motifs than these in one repeat are a texture; each is weighed against its neighbours some thousand times. */
export const MOST_TOSSED = 1_000;
/** A gap of less is none: no printer holds it. */
const LEAST_GAP = 0.05;
const LARGEST = 1e5;
const LARGEST_SEED = 2 ** 32 - 1;

/** Reads a length above 0, refusing what is no size of cloth. */
function readSize(length: Length, where: string, atLeast: number = 0): number {
  const value = mm(length);
  if (value > 0 && value >= atLeast && value <= LARGEST) return value;
  throw new RepetendError("E_NUMBER", "a toss has no use for this length", {
    where: `toss.${where}`,
    value: String(length),
    accepted: `${atLeast > 0 ? `at least ${atLeast} mm` : "above 0"}, at most ${LARGEST} mm`,
  });
}

/** Reads the gap. */
export const readGap = (options: TossOptions): number => readSize(options.gap, "gap", LEAST_GAP);

/** Whether a band is to be filled, or a cell. */
export const isBand = (space: TossCell | TossBand): space is TossBand => "repeat" in space;

/** Reads the space to fill. */
export function readSpace({ space }: TossOptions, gap: number): Space {
  if (isBand(space)) {
    const repeat = readSize(space.repeat, "space.repeat");
    const [from, to] = [mm(space.from), mm(space.to)];
    if (!(to > from)) {
      throw new RepetendError("E_BAND", "a band runs from one level to a further one", {
        where: "toss.space",
        value: `${space.from} to ${space.to}`,
        accepted: "from below to",
      });
    }
    return bandSpace(repeat, readSize(to - from, "space.to"), space.across === "free" ? undefined : gap / 2);
  }
  const size = {
    name: "toss",
    width: readSize(space.width, "space.width"),
    height: readSize(space.height, "space.height"),
    motifs: [],
  };
  const layout = space.layout ?? "straight";
  if (typeof layout === "object") {
    return cellSpace(
      latticeOf("ends" in layout ? satin({ ...size, ...layout }) : stepped({ ...size, ...layout })),
    );
  }
  const kind = layout satisfies "straight" | "half-drop" | "brick";
  if (!["straight", "half-drop", "brick"].includes(kind)) {
    throw new RepetendError("E_LAYOUT", "this is no layout of an all-over print", {
      where: "toss.space.layout",
      value: String(kind),
      accepted: '"straight", "half-drop", "brick", { along, step } or { ends, move }',
    });
  }
  return cellSpace(latticeOf({ ...straight(size), layout: { kind } }));
}

/** Reads the seed. */
export function readSeed({ seed = 1 }: TossOptions): number {
  return readWhole(seed, "seed", 0, LARGEST_SEED);
}

/** Reads how many are asked for; `undefined` for as many as fit. */
export function readCount({ count }: TossOptions): number | undefined {
  return count === undefined ? undefined : readWhole(count, "count", 1, MOST_TOSSED);
}

function readWhole(value: number, where: string, least: number, most: number): number {
  if (Number.isInteger(value) && value >= least && value <= most) return value;
  throw new RepetendError("E_NUMBER", `a ${where} is a whole number`, {
    where: `toss.${where}`,
    value: String(value),
    accepted: `${least} to ${most}`,
  });
}

/** A curve may be missed by so much of a gap; it is added around, so that outlines are never nearer than they seem. */
export const TOLERANCE: number = 1 / 80;
/** Distances are looked up to so many gaps away, and where a count leaves more room, as far as that. */
const MARGIN_GAPS = 3;

function isRange(width: TossMotif["width"]): width is readonly [Length, Length] {
  return Array.isArray(width);
}

/** Reads the motifs to toss. */
export function readAsked({ motifs }: TossOptions, gap: number, spread: number): readonly Ask[] {
  if (motifs.length === 0) {
    throw new RepetendError("E_NUMBER", "a toss needs at least one motif", {
      where: "toss.motifs",
      value: "0 motifs",
      accepted: "1 or more",
    });
  }
  return motifs.map((one, index): Ask => {
    const where = `toss.motifs[${index}]`;
    const { motif } = one;
    const given = one.width ?? motif.width;
    const range = isRange(given) ? given : ([given, given] as const);
    const [least, most] = [
      readSize(range[0], `motifs[${index}].width`),
      readSize(range[1], `motifs[${index}].width`),
    ];
    if (least > most) {
      throw new RepetendError("E_SIZE", "a motif's widths go from the smallest to the largest", {
        input: motif.name,
        where: `${where}.width`,
        value: `${range[0]} to ${range[1]}`,
        accepted: "the smaller one first",
      });
    }
    const share = one.share ?? 1;
    if (!(share > 0 && share <= 1e6)) {
      throw new RepetendError("E_NUMBER", "a share is more than 0", {
        input: motif.name,
        where: `${where}.share`,
        value: String(share),
        accepted: "a number above 0, at most 1,000,000",
      });
    }
    const smallest = least / motif.viewBox.width;
    const kind = lookAtKind(motif, {
      tolerance: (gap * TOLERANCE) / (most / motif.viewBox.width),
      margin: Math.max(MARGIN_GAPS * gap, spread) / smallest,
      gap: gap / smallest,
      map: IDENTITY,
    });
    if (kind === undefined) {
      throw new RepetendError("E_SIZE", "a motif that paints nothing cannot be tossed", {
        input: motif.name,
        where,
        accepted: "a drawing that paints something",
      });
    }
    return {
      index,
      kind,
      smallest,
      largest: most / motif.viewBox.width,
      share,
      // Fillers alone have no holes to wait for.
      filler: (one.filler ?? false) && motifs.some((other) => !other.filler),
      turns: readTurns(one.turn ?? "any", motif.name, `${where}.turn`),
      flip: one.flip ?? false,
    };
  });
}
