import type { RepeatEstimate } from "./estimate.js";
import type { FoundLayout } from "./layout.js";

function nameLayout(layout: FoundLayout): string {
  if (typeof layout === "string") return layout;
  const { p, q } = layout.step;
  return layout.along === "column"
    ? `stepped, each next column lower by ${p}/${q} of the height`
    : `stepped, each next row moved along by ${p}/${q} of the width`;
}

/** What was found, in one sentence. */
export function sayRepeat(estimate: Omit<RepeatEstimate, "says">): string {
  const { found, layout, width, height, mm, confidence } = estimate;
  const lengths = [width, height].map((pixels, axis) => {
    const length = axis === 0 ? mm?.width : mm?.height;
    return pixels === undefined
      ? undefined
      : `${pixels.toFixed(1)} px${length === undefined ? "" : ` (${length.toFixed(1)} mm)`}`;
  });
  const [wide, tall] = lengths;
  const sure = confidence >= 0.8 ? "" : confidence >= 0.5 ? ", fairly sure" : ", not sure";
  switch (found) {
    case "lattice":
      return `A ${nameLayout(layout)} repeat, ${wide} wide and ${tall} tall${sure}.`;
    case "border":
      return wide === undefined
        ? `It repeats down the picture only, every ${tall}${sure}.`
        : `A border: it repeats along x only, every ${wide}${sure}.`;
    case "stripes": {
      const every = [wide && `every ${wide} along x`, tall && `every ${tall} along y`]
        .filter(Boolean)
        .join(" and ");
      return `Nothing but stripes: they repeat ${every}${sure}.`;
    }
    case "tile":
      return `No repeat inside the picture, but its own edges meet: one ${nameLayout(layout)} tile, ${wide} wide and ${tall} tall${sure}.`;
    case "plain":
      return "A plain ground: any repeat will do.";
    case "nothing":
      return "No repeat was found: the picture shows less than two of them, or none.";
  }
}
