import type { Lattice } from "../../geometry/lattice.js";
import { anAllOver } from "../checks.js";
import type { AllOver } from "../types.js";

const HALF = { p: 1, q: 2 };

/** The lattice on which an all-over print repeats, in mm; every layout is a step along columns or rows. */
export function latticeOf(print: AllOver): Lattice {
  anAllOver(print, "print");
  const { layout, width, height } = print;
  switch (layout.kind) {
    case "straight":
      return { width, height, along: "column", step: { p: 0, q: 1 } };
    case "half-drop":
      return { width, height, along: "column", step: HALF };
    case "brick":
      return { width, height, along: "row", step: HALF };
    case "stepped":
      return { width, height, along: layout.along, step: layout.step };
    case "satin":
      return {
        width: width / layout.ends,
        height,
        along: "column",
        step: { p: layout.move, q: layout.ends },
      };
  }
}
