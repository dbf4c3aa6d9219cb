import type { Print } from "../../repeat/index.js";
import { fitGrid, type GridFit } from "../page/grid-fit.js";
import { sayableScale } from "../page/picture-scale.js";
import { type ClothFit, fitCloth, shownArea } from "./cloth-window.js";
import type { GarmentPicture } from "./garment-picture.js";

/** What a card shows. */
export interface CardSubject {
  readonly prints: readonly Print[];
  readonly garments: readonly GarmentPicture[];
}

/** How a card's pictures lie: cloth at the top left, garments beside it or below. In mm from the card's corner. */
export interface CardPictures {
  readonly cloth: ClothFit | undefined;
  readonly garments: (GridFit & { readonly x: number; readonly y: number }) | undefined;
  /** Where the lowest of them ends. */
  readonly bottom: number;
  /** How much they show: the larger the better. */
  readonly score: number;
}

/** Distances in mm of the page. */
export interface CardGaps {
  readonly gap: number;
  /** Between two windows of cloth, names of prints counted in. */
  readonly apart: number;
}

interface Size {
  readonly width: number;
  readonly height: number;
}

/** Shares of the card that its cloth takes of the width or the height: every fortieth. */
const SHARES = Array.from({ length: 23 }, (_, k) => 0.3 + k / 40);

const clothHeight = ({ heights }: ClothFit, apart: number): number =>
  heights.reduce((sum, height) => sum + height, (heights.length - 1) * apart);

const garmentArea = ({ places }: GridFit): number =>
  places.reduce((sum, { width, height }) => sum + width * height, 0);

/** How much cloth counts against garments where there are both: prints are what is shown, but neither is a mere stamp. */
const CLOTH = 0.55;

/** Lays the pictures of a card so that they show as much as they can. `undefined` where there is no room. */
export function layPictures(
  { prints, garments }: CardSubject,
  room: Size,
  { gap, apart }: CardGaps,
): CardPictures | undefined {
  if (room.width <= 0 || room.height <= 0) return undefined;
  const dress = (space: Size, spread: boolean) =>
    fitGrid(garments, space, { gap: 0.8 * gap, most: 1, round: sayableScale, spread });
  const judge = (cloth: ClothFit, grid: GridFit): number =>
    shownArea(prints, cloth) ** CLOTH * garmentArea(grid) ** (1 - CLOTH);
  const lowest = (grid: GridFit): number => Math.max(...grid.places.map(({ y, height }) => y + height));

  if (garments.length === 0) {
    const cloth = fitCloth(prints, room, apart);
    if (cloth === undefined) return undefined;
    return { cloth, garments: undefined, bottom: clothHeight(cloth, apart), score: shownArea(prints, cloth) };
  }
  if (prints.length === 0) {
    const grid = dress(room, false);
    if (grid === undefined) return undefined;
    return {
      cloth: undefined,
      garments: { ...grid, x: 0, y: 0 },
      bottom: lowest(grid),
      score: garmentArea(grid),
    };
  }
  const beside = SHARES.flatMap((share): readonly CardPictures[] => {
    const width = share * room.width;
    const cloth = fitCloth(prints, { width, height: room.height }, apart);
    if (cloth === undefined) return [];
    const high = clothHeight(cloth, apart);
    const grid = dress({ width: room.width - width - gap, height: high }, true);
    if (grid === undefined) return [];
    // One row alone stands on the line on which the cloth ends.
    const y = high - lowest(grid);
    return [{ cloth, garments: { ...grid, x: width + gap, y }, bottom: high, score: judge(cloth, grid) }];
  });
  const below = SHARES.flatMap((share): readonly CardPictures[] => {
    const cloth = fitCloth(prints, { width: room.width, height: share * room.height }, apart);
    if (cloth === undefined) return [];
    const high = clothHeight(cloth, apart);
    const grid = dress({ width: room.width, height: room.height - high - gap }, false);
    if (grid === undefined) return [];
    const y = high + gap;
    return [{ cloth, garments: { ...grid, x: 0, y }, bottom: y + lowest(grid), score: judge(cloth, grid) }];
  });
  return best([...beside, ...below]);
}

/** The one with the highest score, the first of several. */
export function best<T extends { readonly score: number }>(all: readonly T[]): T | undefined {
  return all.reduce<T | undefined>(
    (found, one) => (found === undefined || one.score > found.score ? one : found),
    undefined,
  );
}
