import type { StatedFit } from "./stated.js";
import type { EdgePair, FaultKind, SeamShift } from "./types.js";

const rounded = (value: number): string => String(Number(Math.abs(value).toFixed(1)));

/** What the trade would do about a fault, in one sentence. */
export function mendSentence(
  edge: EdgePair,
  kind: FaultKind,
  facts: {
    readonly shift?: SeamShift;
    readonly count?: number;
    readonly multiple?: number;
    readonly side?: number;
    readonly stated?: StatedFit;
  },
): string {
  const isSide = edge === "left-right";
  const far = isSide ? "left" : "top";
  const near = isSide ? "right" : "bottom";
  const line = isSide ? "column" : "row";
  switch (kind) {
    case "gap":
      return `A line of ground parts the print: crop it off the ${near} or ${far} edge, or carry ground and motifs out to the edge and cut the repeat again.`;
    case "shift": {
      const { along = 0, across = 0 } = facts.shift ?? {};
      const moves: string[] = [];
      if (Math.abs(along) >= 0.25)
        moves.push(
          `${rounded(along)} px ${isSide ? (along > 0 ? "up" : "down") : along > 0 ? "left" : "right"}`,
        );
      if (Math.abs(across) >= 0.25)
        moves.push(`${rounded(across)} px ${across > 0 ? "away from" : "towards"} the ${near} edge`);
      const what = moves.length > 0 ? moves.join(" and ") : "into place";
      return `The edges are out of register: move what crosses the ${far} edge ${what}.`;
    }
    case "cut":
      return `A motif ends at the edge: draw it again one repeat away so that it comes back in at the other edge, or move it inside.`;
    case "colour":
      return `The shapes meet but their inks do not: give the copies at the ${far} and the ${near} edge the same ink.`;
    case "size":
      if (facts.stated) return mendStated(isSide ? "width" : "height", facts.stated);
      return facts.multiple === undefined
        ? `The picture is not a whole multiple of its repeat: set the repeat to whole pixels at this resolution and cut it again.`
        : `The ${isSide ? "height" : "width"} of ${facts.side} px cannot be stepped in ${facts.multiple} equal parts: make it a multiple of ${facts.multiple} px.`;
    case "doubled": {
      const count = facts.count ?? 1;
      return `The last ${count === 1 ? `${line} of pixels repeats` : `${count} ${line}s of pixels repeat`} the first: crop ${count === 1 ? "it" : "them"} off the ${near} edge.`;
    }
  }
}

function mendStated(name: "width" | "height", { side, repeat, count, over }: StatedFit): string {
  const exact = Number((count * repeat).toFixed(2));
  const holds = `The ${name} of ${side} px is ${rounded(over)} px ${over > 0 ? "more" : "less"} than ${count === 1 ? "the stated repeat" : `${count} stated repeats`} of ${Number(repeat.toFixed(2))} px`;
  const isNear = Math.abs(over) <= NEARLY * repeat;
  if (!isNear)
    return `${holds}: the picture holds no whole number of repeats, so cut it to ${exact} px or state the repeat that it has.`;
  return over > 0 && Number.isInteger(exact)
    ? `${holds}: crop it to ${exact} px.`
    : `${holds}: set the artwork to ${exact} px and cut the repeat again.`;
}

/** Further off than this part of a repeat, a picture is not a badly cut repeat but something else. */
const NEARLY = 0.1;
