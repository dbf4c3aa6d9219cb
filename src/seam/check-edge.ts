import type { PixelImage } from "../image/index.js";
import { mendSentence } from "./mend.js";
import { findCutEnds } from "./outlines/dead-ends.js";
import { findOtherInks } from "./outlines/other-ink.js";
import { findShift } from "./outlines/register.js";
import { pairContours } from "./outlines/slip.js";
import { countDoubled } from "./rows/doubled.js";
import { findGap } from "./rows/gap.js";
import { judgeStripes } from "./rows/stripes.js";
import { findTorn } from "./rows/torn.js";
import type { StatedFit } from "./stated.js";
import { findFramed } from "./steps/framed.js";
import { findOpenRuns, isBounded, type OpenRun } from "./steps/open.js";
import { exactSteps, findOpenPieces } from "./steps/open-pieces.js";
import type { SeamCourse } from "./strip/layout.js";
import { measureJumps, pixelDifference, readStrip, type Strip } from "./strip/strip.js";
import type { EdgeReport, FaultKind, SeamRun, SeamShift, Stretch } from "./types.js";

/** Columns read on each side of a seam. */
export const DEPTH = 16;

interface FoundRun {
  readonly kind: FaultKind;
  readonly px: Stretch;
  readonly worst: number;
}

interface Finding {
  readonly kind: FaultKind;
  readonly runs: readonly FoundRun[];
  readonly shift?: SeamShift;
  readonly count?: number;
  readonly stated?: StatedFit;
}

const CLOSED: Finding = { kind: "cut", runs: [] };

/** Tells whether the outlines inside an open stretch are the same on both sides: then only the ink differs. */
function hasSameShapes(strip: Strip, run: OpenRun): boolean {
  const { half, length } = strip;
  const changes = (column: number): readonly number[] => {
    const found: number[] = [];
    for (let t = run.from - 4; t < run.to + 4; t++) {
      const row = ((t % length) + length) % length;
      const next = (row + 1) % length;
      const change = pixelDifference(strip, row * 2 * half + column, next * 2 * half + column);
      if (change > 3) found.push(t);
    }
    return found;
  };
  const near = changes(half - 1);
  const far = changes(half);
  const matched = (list: readonly number[], others: readonly number[]) =>
    list.filter((t) => others.some((other) => Math.abs(other - t) <= 2)).length;
  const most = near.length + far.length;
  return most > 0 && (matched(near, far) + matched(far, near)) / most >= 0.6;
}

/** Runs that overlap are one; cut where one of them is. */
function joinRuns(runs: readonly FoundRun[]): readonly FoundRun[] {
  const joined: FoundRun[] = [];
  for (const run of [...runs].sort((one, other) => one.px.from - other.px.from)) {
    const last = joined.at(-1);
    if (last === undefined || run.px.from > last.px.to) {
      joined.push(run);
      continue;
    }
    joined[joined.length - 1] = {
      kind: last.kind === "cut" ? "cut" : run.kind,
      px: { from: last.px.from, to: Math.max(last.px.to, run.px.to) },
      worst: Math.max(last.worst, run.worst),
    };
  }
  return joined;
}

function findFault(
  image: PixelImage,
  strip: Strip,
  course: SeamCourse,
  stated: StatedFit | undefined,
): Finding {
  const jumps = measureJumps(strip);
  const jumpAt = (t: number) =>
    jumps[
      (((t % strip.length) + strip.length) % strip.length) * (2 * strip.half - 1) + strip.half - 1
    ] as number;
  const worstIn = (from: number, to: number) => {
    let worst = 0;
    for (let t = from; t < to; t++) worst = Math.max(worst, jumpAt(t));
    return worst;
  };
  const whole = (kind: FaultKind): Finding["runs"] => [
    { kind, px: { from: 0, to: strip.length }, worst: worstIn(0, strip.length) },
  ];
  if (stated?.isWhole === false) return { kind: "size", runs: whole("size"), stated };
  if (Math.abs(course.remainder) > 1e-9) return { kind: "size", runs: whole("size") };
  const stripes = judgeStripes(image, course, strip);
  if (stripes !== undefined) return stripes === "closed" ? CLOSED : { kind: stripes, runs: whole(stripes) };
  const count = countDoubled(strip);
  if (count > 0) return { kind: "doubled", runs: whole("doubled"), count };
  const gap = findGap(strip);
  if (gap) return { kind: "gap", runs: gap.runs.map((px) => ({ kind: "gap", px, worst: gap.worst })) };
  const pairs = pairContours(strip);
  const slipped = findShift(pairs);
  if (slipped) {
    const { px, shift } = slipped;
    return { kind: "shift", runs: [{ kind: "shift", px, worst: worstIn(px.from, px.to) }], shift };
  }
  const pieces = findOpenPieces(strip, exactSteps(strip, jumps));
  const open = findOpenRuns(strip, jumps, pieces, pairs.edges);
  const torn = findTorn(strip, jumps).map(({ from, to, worst }) => ({
    kind: "cut" as const,
    px: { from, to },
    worst,
  }));
  if (torn.length > 0) return { kind: "cut", runs: torn };
  const ends = findCutEnds(strip, pieces, pairs.edges);
  const inks = findOtherInks(strip, pairs.edges);
  const framed = findFramed(strip, pieces, pairs.edges);
  if (open.length + ends.length + inks.length + framed.length === 0) return CLOSED;
  const isInk = inks.length + framed.length > 0 && ends.length === 0;
  const runs = joinRuns([
    ...open.map((run) => ({
      kind:
        isInk || (ends.length === 0 && isBounded(strip, run)) || hasSameShapes(strip, run)
          ? ("colour" as const)
          : ("cut" as const),
      px: { from: run.from, to: run.to },
      worst: run.worst,
    })),
    ...inks.map(({ px, step }) => ({ kind: "colour" as const, px, worst: step })),
    ...framed.map(({ from, to, worst }) => ({ kind: "colour" as const, px: { from, to }, worst })),
    ...ends.map(({ px, worst }) => ({ kind: "cut" as const, px, worst })),
  ]);
  const longest = runs.reduce((one, other) =>
    other.px.to - other.px.from > one.px.to - one.px.from ? other : one,
  );
  return { kind: longest.kind, runs };
}

/** Checks one pair of edges that meet; `stated` says how the picture fits the repeat it is said to hold. */
export function checkEdge(
  image: PixelImage,
  course: SeamCourse,
  mmPerPixel: number | undefined,
  stated?: StatedFit,
): EdgeReport {
  const depth = course.edge === "left-right" ? image.width : image.height;
  const strip = readStrip(image, course, Math.max(2, Math.min(DEPTH, Math.floor(depth / 2))));
  const finding = findFault(image, strip, course, stated);
  const ok = finding.runs.length === 0;
  const runs = finding.runs.map(({ kind, px, worst }): SeamRun => {
    const to = (value: number) => value * (mmPerPixel ?? 0);
    return {
      kind,
      px,
      worst,
      mm: mmPerPixel === undefined ? undefined : { from: to(px.from), to: to(px.to) },
    };
  });
  const open = runs.reduce((sum, { px }) => sum + px.to - px.from, 0);
  return {
    edge: course.edge,
    ok,
    kind: ok ? undefined : finding.kind,
    worst: Math.max(0, ...runs.map((run) => run.worst)),
    shift: finding.shift,
    runs,
    share: Math.min(1, open / strip.length),
    mend: ok
      ? undefined
      : mendSentence(course.edge, finding.kind, {
          ...(finding.shift ? { shift: finding.shift } : {}),
          ...(finding.count === undefined ? {} : { count: finding.count }),
          ...(finding.stated ? { stated: finding.stated } : {}),
          ...(finding.kind === "size" && Math.abs(course.remainder) > 1e-9
            ? { multiple: course.multiple, side: strip.length }
            : {}),
        }),
  };
}
