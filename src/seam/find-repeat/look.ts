import { detailOf, softenPicture } from "./detail.js";
import type { Shift } from "./lattice.js";
import { findPeaks, type Likeness, measureLikeness, type Peak } from "./likeness.js";
import { type LabPicture, shrinkPicture } from "./picture.js";

/** One look at a picture: coarse, to find shifts by their likeness, and fine, to measure them. */
export interface Look {
  readonly fine: LabPicture;
  /** The fine picture, softened by a pixel. */
  readonly soft: LabPicture;
  readonly fineDetail: LabPicture;
  readonly coarse: LabPicture;
  readonly coarseDetail: LabPicture;
  readonly likeness: Likeness;
  /** Highest first, in pixels of the coarse picture. */
  readonly peaks: readonly Peak[];
  /** From pixels of the coarse picture to those of the fine one. */
  readonly toFine: (shift: Shift) => Shift;
  /** A peak of the coarse picture is true to so many pixels of the fine one. */
  readonly slack: number;
}

/** A repeat is looked for on about so many pixels: a transform of 512 x 512 holds them with their shifts. */
const COARSE_PIXELS = 330 * 330;

/** Detail is what is smaller than this many coarse pixels each way: an eighth of a repeat, where five are in sight. */
const DETAIL_RADIUS = 8;

/** Shifts shorter than this many coarse pixels are within the reach of one motif's own outline. */
export const SHORTEST = 7;

/** Looks at a picture. */
export function lookAt(fine: LabPicture): Look {
  const coarse = shrinkPicture(fine, COARSE_PIXELS);
  const radius = Math.max(2, Math.min(DETAIL_RADIUS, Math.floor(Math.min(coarse.width, coarse.height) / 8)));
  const coarseDetail = detailOf(softenPicture(coarse), radius, true);
  const likeness = measureLikeness(coarseDetail);
  const [x, y] = [coarse.scaleX / fine.scaleX, coarse.scaleY / fine.scaleY];
  const soft = softenPicture(fine);
  return {
    fine,
    soft,
    fineDetail: detailOf(soft, Math.max(2, Math.round(radius * Math.max(x, y))), false),
    coarse,
    coarseDetail,
    likeness,
    peaks: findPeaks(likeness, SHORTEST),
    toFine: (shift) => ({ x: shift.x * x, y: shift.y * y }),
    slack: Math.ceil(1.2 * Math.max(x, y)) + 1,
  };
}
