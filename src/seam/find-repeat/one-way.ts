import { type Answer, DOUBTFUL, sureness } from "./answer.js";
import type { Look } from "./look.js";
import { explainsAsWell, refineShift, unexplainedShare } from "./refine.js";
import { findStripes, periodAlong } from "./stripes.js";

/** So many of the shortest peaks along an axis are measured. */
const MEASURED = 10;

/** The repeat of a picture that repeats along one axis only: the smallest shift that explains it as well as any does. */
export function answerOneWay(look: Look): Answer | undefined {
  const level = look.peaks.filter(({ x, y }) => Math.abs(x) < 2 || Math.abs(y) < 2);
  const best = level[0]?.value ?? 0;
  if (best < DOUBTFUL) return undefined;
  const measured = level
    .filter((peak) => peak.value > best - 0.3)
    .sort((one, other) => Math.hypot(one.x, one.y) - Math.hypot(other.x, other.y))
    .slice(0, MEASURED)
    .map((peak) => {
      const shift = refineShift(look.fineDetail, look.toFine(peak), look.slack);
      return { shift, unexplained: unexplainedShare(look.soft, shift) };
    });
  const likely = measured.filter(({ shift }) => shift.value > best - 0.1);
  const reference = Math.min(1, ...likely.map((one) => one.unexplained));
  const first = measured.find((one) => explainsAsWell(one.unexplained, reference));
  if (!first || first.shift.value < DOUBTFUL) return undefined;
  const { x, y, value } = first.shift;
  const alongX = Math.abs(x) > Math.abs(y);
  const length = Math.max(Math.abs(x), Math.abs(y)) * look.fine.scaleX;
  return {
    found: "border",
    layout: alongX ? "border" : "none",
    ...(alongX ? { width: length } : { height: length }),
    repeats: { x: alongX, y: !alongX },
    confidence: sureness(value) * (1 - first.unexplained),
    shifts: [alongX ? { x: length, y: 0 } : { x: 0, y: length }],
  };
}

/** Stripes turned by less than this, as a slope, run along an axis. */
const ALONG_AXIS = 0.05;

/** The repeat of a picture that is nothing but stripes, level, upright or slanted. */
export function answerStripes(look: Look): Answer | undefined {
  const across = findStripes(look.coarseDetail, look.likeness);
  if (!across) return undefined;
  const period = (axis: "x" | "y") => {
    if (Math.abs(across[axis]) < ALONG_AXIS) return undefined;
    const rough = periodAlong(look.likeness, axis, 3);
    if (!rough) return undefined;
    const shift = axis === "x" ? { x: rough.length, y: 0 } : { x: 0, y: rough.length };
    const fine = refineShift(look.fineDetail, look.toFine(shift), look.slack, axis);
    return { length: fine[axis] * look.fine.scaleX, likeness: fine.value };
  };
  const [x, y] = [period("x"), period("y")];
  const known = [x, y].flatMap((one) => (one ? [one.likeness] : []));
  if (known.length === 0) return undefined;
  return {
    found: "stripes",
    layout: "straight",
    ...(x ? { width: x.length } : {}),
    ...(y ? { height: y.length } : {}),
    repeats: { x: true, y: true },
    confidence: sureness(Math.min(...known)),
    shifts: [...(x ? [{ x: x.length, y: 0 }] : []), ...(y ? [{ x: 0, y: y.length }] : [])],
  };
}
