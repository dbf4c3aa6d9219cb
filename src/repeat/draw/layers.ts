import { RepetendError } from "../../errors.js";
import type { Affine } from "../../geometry/affine.js";
import type { Box } from "../../geometry/box.js";
import { boxOverlap } from "../../geometry/box.js";
import {
  copiesInWindow,
  type LatticeCopy,
  type LatticeRectangle,
  latticeRectangle,
  runningRectangle,
} from "../../geometry/lattice.js";
import type { Motif } from "../../motif/types.js";
import { aBox, aPrint } from "../checks.js";
import type { Band, Border, Placement, Print } from "../types.js";
import { latticeOf } from "./lattice-of.js";

/** A ground that shows in the window, in mm of the print. */
export interface GroundLayer {
  readonly kind: "ground";
  readonly ink: string;
  readonly box: Box;
}

/** One copy of a placed motif, and by how much the lattice moves it, in mm of the print. */
export interface MotifCopy {
  readonly motif: Motif;
  /** From the motif's user units to mm, before the lattice moves it. */
  readonly map: Affine;
  /** The lattice point inside the first rectangle; add `shift` for the copy's own. */
  readonly station: { readonly x: number; readonly y: number };
  /** Whole rectangles, exactly. */
  readonly shift: { readonly x: number; readonly y: number };
}

/** Motif copies in paint order, cut to a box where one is given. */
export interface MotifLayer {
  readonly kind: "motifs";
  readonly clip: Box | undefined;
  readonly copies: readonly MotifCopy[];
}

/** What is painted in a window, bottom to top. */
export type Layer = GroundLayer | MotifLayer;

/** The rectangle that repeats by itself, in mm; a border's has no height of its own and stands once. */
export function rectangleOf(print: Print): { readonly width: number; readonly height: number } {
  aPrint(print, "print");
  if (print.kind === "border") return { width: print.repeat, height: print.width };
  const { width, height } = latticeRectangle(latticeOf(print));
  return { width, height: height ?? print.height };
}

/** More copies than this no renderer takes in one drawing: as many as references in a motif may multiply to. */
const MOST_COPIES = 500_000;

/** At most so many copies of a placement reach into a window. */
function countCopies(
  { reach }: Placement,
  { width, height, stations }: LatticeRectangle,
  window: Box,
): number {
  const across = (window.width + reach.width) / width + 1;
  const down = height === undefined ? 1 : (window.height + reach.height) / height + 1;
  return stations.length * across * down;
}

/** Refuses a window that shows motifs so often that listing them would take all memory. */
function checkCopies(
  name: string,
  motifs: readonly Placement[],
  rectangle: LatticeRectangle,
  window: Box,
): void {
  let copies = 0;
  for (const placement of motifs) {
    copies += countCopies(placement, rectangle, window);
    if (copies <= MOST_COPIES) continue;
    throw new RepetendError("E_INSTANCES", "motifs stand too often in one window of the cloth", {
      input: name,
      where: `motif "${placement.motif.name}"`,
      value: `${Math.round(copies)} copies`,
      accepted: `at most ${MOST_COPIES}: a smaller window, a smaller motif or a larger repeat`,
    });
  }
}

function copyMotifs(
  name: string,
  motifs: readonly Placement[],
  rectangle: LatticeRectangle,
  window: Box,
): readonly MotifCopy[] {
  checkCopies(name, motifs, rectangle, window);
  const move = (copy: LatticeCopy) => ({
    station: { x: copy.station.x, y: copy.station.y },
    shift: { x: copy.across * rectangle.width, y: copy.down * (rectangle.height ?? 0) },
  });
  return motifs.flatMap((placement) =>
    copiesInWindow(rectangle, placement.reach, window).map((copy) => ({
      motif: placement.motif,
      map: placement.map,
      ...move(copy),
    })),
  );
}

/**
 * A band's ground runs on under a later band that starts where it ends: two edges that only touch off the pixel grid
 * would let a hairline of the ground below shine through.
 */
function groundLevels(band: Band, later: readonly Band[]): { from: number; to: number } {
  const solid = later.filter((other) => other.ground !== undefined);
  const below = solid.find((other) => Math.abs(other.from - band.to) < 1e-6);
  const above = solid.find((other) => Math.abs(other.to - band.from) < 1e-6);
  return {
    from: above ? (above.from + above.to) / 2 : band.from,
    to: below ? (below.from + below.to) / 2 : band.to,
  };
}

function borderLayers(print: Border, window: Box, shown: Box): readonly Layer[] {
  const stripe = (from: number, to: number): Box => ({
    x: window.x,
    y: from,
    width: window.width,
    height: to - from,
  });
  const cloth = boxOverlap(stripe(0, print.width), window);
  if (cloth === undefined) return [];
  const grounds = print.bands.flatMap((band, index): readonly GroundLayer[] => {
    if (band.ground === undefined) return [];
    const { from, to } = groundLevels(band, print.bands.slice(index + 1));
    const box = boxOverlap(stripe(from, to), cloth);
    return box ? [{ kind: "ground", ink: band.ground, box }] : [];
  });
  const motifs = print.bands.map((band): MotifLayer => {
    const limits = band.clip ? stripe(band.from, band.to) : stripe(0, print.width);
    const open = boxOverlap(limits, cloth);
    const copies = open
      ? copyMotifs(print.name, band.motifs, runningRectangle(print.repeat, band.count), open)
      : [];
    const leansOut = copies.length > 0 && band.motifs.some((one) => leavesBand(one.reach, limits, shown));
    return { kind: "motifs", clip: leansOut ? open : undefined, copies };
  });
  const ground: readonly GroundLayer[] =
    print.ground === undefined ? [] : [{ kind: "ground", ink: print.ground, box: cloth }];
  return [...ground, ...grounds, ...motifs.filter((layer) => layer.copies.length > 0)];
}

/** Only what leaves the limits and still shows needs cutting: a clip is the dearest thing to render. */
function leavesBand(reach: Box, limits: Box, shown: Box): boolean {
  const [reachEnd, limitsEnd, shownEnd] = [reach, limits, shown].map((box) => box.y + box.height) as [
    number,
    number,
    number,
  ];
  return (reach.y < limits.y && shown.y < limits.y) || (reachEnd > limitsEnd && shownEnd > limitsEnd);
}

/**
 * Everything that a window of the endless cloth shows, in paint order; the window in mm of the print.
 * A window beyond a border's selvedges shows nothing there. `shown` is the part of the window that is kept, where the
 * rest is rendered only to be cut off again.
 */
export function layersInWindow(print: Print, window: Box, shown: Box = window): readonly Layer[] {
  aPrint(print, "print");
  aBox(window, "window");
  aBox(shown, "shown");
  if (print.kind === "border") return borderLayers(print, window, shown);
  const copies = copyMotifs(print.name, print.motifs, latticeRectangle(latticeOf(print)), window);
  return [
    ...(print.ground === undefined ? [] : [{ kind: "ground", ink: print.ground, box: window } as const]),
    ...(copies.length === 0 ? [] : [{ kind: "motifs", clip: undefined, copies } as const]),
  ];
}
