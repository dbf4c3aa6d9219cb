import { type Motif, motif } from "../../motif/index.js";

/** A drawing of one filled polygon, and its corners, from which tests measure by themselves. */
export interface Cut {
  readonly motif: Motif;
  readonly corners: readonly (readonly [number, number])[];
}

function cut(name: string, size: number, corners: Cut["corners"]): Cut {
  const points = corners.map((corner) => corner.join(" ")).join(" ");
  return {
    motif: motif(
      `<svg xmlns="http://www.w3.org/2000/svg" width="${size}mm" height="${size}mm" viewBox="0 0 ${size} ${size}">` +
        `<polygon points="${points}" fill="#5a8b80"/></svg>`,
      { name },
    ),
    corners,
  };
}

/** A body with one long leg: its box and its circle are mostly empty. */
export const LEG: Cut = cut("leg", 20, [
  [2, 2],
  [9, 2],
  [9, 8],
  [18, 17],
  [17, 18],
  [7, 9],
  [2, 9],
]);

/** An angle, into which others may reach. */
export const ANGLE: Cut = cut("angle", 20, [
  [1, 1],
  [5, 1],
  [5, 15],
  [19, 15],
  [19, 19],
  [1, 19],
]);

/** Small and nearly round. */
export const PIP: Cut = cut("pip", 6, [
  [3, 0.5],
  [5.2, 1.8],
  [5.2, 4.2],
  [3, 5.5],
  [0.8, 4.2],
  [0.8, 1.8],
]);

export const CUTS: readonly Cut[] = [LEG, ANGLE, PIP];
