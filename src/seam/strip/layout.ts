import { RepetendError } from "../../errors.js";
import { readStep } from "../../repeat/index.js";
import type { SeamLayout } from "../types.js";
import type { SeamPlace } from "./strip.js";

/** Where the edges of a picture meet, and by which exact fraction of its side the far tile is moved along. */
export interface SeamCourse extends SeamPlace {
  /** Pixels that are lacking for the offset to be whole: a fraction of a pixel, 0 where it is. */
  readonly remainder: number;
  /** The number of pixels along the seam is a multiple of this where the offset is whole. */
  readonly multiple: number;
}

const HALF = { p: 1, q: 2 };
const NONE = { p: 0, q: 1 };

/**
 * The edges of a picture that meet under a layout: left-right first. Where the next columns lie lower, the seams between rows
 * end at their column, and meet the middle of the next one.
 *
 * @throws {@link RepetendError} `E_LAYOUT` for a layout that is not known.
 */
export function seamCourses(layout: SeamLayout, width: number, height: number): readonly SeamCourse[] {
  const named = typeof layout === "string" ? { kind: layout } : layout;
  const course = (edge: SeamPlace["edge"], step: { p: number; q: number }, cyclic = true): SeamCourse => {
    const exact = ((edge === "left-right" ? height : width) * step.p) / step.q;
    return {
      edge,
      offset: Math.round(exact),
      cyclic,
      remainder: exact - Math.round(exact),
      multiple: step.q,
    };
  };
  switch (named.kind) {
    case "straight":
      return [course("left-right", NONE), course("top-bottom", NONE)];
    case "half-drop":
      return [course("left-right", HALF), course("top-bottom", NONE, false)];
    case "brick":
      return [course("left-right", NONE, false), course("top-bottom", HALF)];
    case "border":
      return [course("left-right", NONE, false)];
    case "stepped": {
      const step = readStep(named.step);
      const isInLine = step.p === 0;
      if (named.along === "column") return [course("left-right", step), course("top-bottom", NONE, isInLine)];
      return [course("left-right", NONE, isInLine), course("top-bottom", step)];
    }
    default:
      throw new RepetendError("E_LAYOUT", "a layout is not known", {
        where: "layout",
        value: String((named as { kind: unknown }).kind),
        accepted: '"straight", "half-drop", "brick", "border" or { kind: "stepped", along, step }',
      });
  }
}
