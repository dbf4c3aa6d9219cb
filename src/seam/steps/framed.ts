import type { Strip } from "../strip/strip.js";
import { isSameStep, type OpenPiece } from "./open-pieces.js";

/**
 * Fewer rows in another ink are corners that happen to lie at the seam: in one place, or in several of the same two inks.
 * Calibrated on 12,000 closed edges, also such that lie anywhere inside the bench's tiles. In grain colours waver.
 */
const FEWEST_ROWS = {
  soft: { single: 5, several: 3 },
  hard: { single: 6, several: 3 },
  grainy: { single: 24, several: 24 },
} as const;

/** Pieces that step between the same two colours, each kind together. */
function groupBySteps(strip: Strip, pieces: readonly OpenPiece[]): readonly (readonly OpenPiece[])[] {
  const groups: OpenPiece[][] = [];
  for (const piece of pieces) {
    const group = groups.find(([first]) => first !== undefined && isSameStep(strip, first, piece));
    if (group) group.push(piece);
    else groups.push([piece]);
  }
  return groups;
}

/**
 * Stretches between outlines of a third colour that run over the seam unbroken, where only the ink in between is another.
 */
export function findFramed(
  strip: Strip,
  pieces: readonly OpenPiece[],
  edges: "soft" | "hard",
): readonly OpenPiece[] {
  const fewest = FEWEST_ROWS[strip.isGrainy ? "grainy" : edges];
  const framed = pieces.filter((piece) => piece.isFramed && piece.explained !== "outline");
  return groupBySteps(strip, framed)
    .filter((group) => {
      const rows = group.reduce((sum, { from, to }) => sum + to - from, 0);
      return rows >= (group.length > 1 ? fewest.several : fewest.single);
    })
    .flat();
}
