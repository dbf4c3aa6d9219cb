import { fitGrid, type GridFit } from "../page/grid-fit.js";
import type { Paper } from "../page/paper.js";
import { best } from "../pictures/card-pictures.js";
import type { GarmentPicture } from "../pictures/garment-picture.js";

/** A style as it is laid out: its picture, and how high its words are in a width. */
export interface LineSubject {
  readonly picture: GarmentPicture;
  readonly wordsHeight: (width: number) => number;
}

/** The pictures of a style: one large, its other colourways small beside it. In mm from the cell's corner. */
export interface StylePictures {
  readonly scale: number;
  readonly front: { readonly x: number; readonly width: number; readonly height: number };
  /** With the room that each has for its caption. */
  readonly others: (GridFit & { readonly x: number; readonly captions: number }) | undefined;
}

interface Words {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** How styles stand on the pages of a line sheet: in cells that are all alike. */
export interface LineLayout {
  readonly count: number;
  readonly columns: number;
  readonly across: number;
  readonly down: number;
  readonly words: Words;
  /** Of each style, in order. */
  readonly pictures: readonly StylePictures[];
  readonly score: number;
}

/** Distances in units of the paper: between cells, pictures and words; captions with what is above their letters. */
const BETWEEN = { x: 11, y: 13 } as const;
const GAP = 7;
const SMALL_GAP = 3.4;
const ASIDE = 6;
/** From a picture down to where its caption's letters stand, the room of a caption below it, and between two captions. */
export const CAPTION = { stands: 4.4, room: 6.2, apart: 1.4 } as const;

/** Words are so wide beside pictures: of the cell's width, and in units at least. */
const WORDS = { share: 0.34, least: 52 } as const;
/** Pictures lower than this show nothing, in units. */
const LEAST = 24;
/** Other colourways are so large against the front at most. */
const OTHERS = 0.5;
/** In less width no name of a colourway can be read, in units. */
const LEAST_OTHERS = 12;
/** Shares of the pictures' width that the front takes. */
const SHARES = Array.from({ length: 19 }, (_, k) => 0.4 + k / 40);
/** Styles are drawn at one scale, unless one would be smaller than it could be by more than this. */
const ALIKE = 1.5;

interface Room {
  readonly width: number;
  readonly height: number;
}

/** The fronts of all styles in a room. */
function scalesOf(subjects: readonly LineSubject[], { width, height }: Room): readonly number[] {
  const fits = subjects.map(({ picture }) => Math.min(1, width / picture.width, height / picture.height));
  const common = Math.min(...fits);
  return fits.map((fit) => (fit > common * ALIKE ? fit : common));
}

interface LaidPictures {
  readonly pictures: readonly StylePictures[];
  readonly score: number;
}

/** Down to where the lowest picture of a style ends. */
const heightOf = ({ front, others }: StylePictures): number =>
  Math.max(front.height, ...(others?.places ?? []).map(({ y, height }) => y + height));

/** The other colourways of a style beside its front, in one of some heights: the one in which they are largest. */
function layOthers(
  picture: GarmentPicture,
  others: number,
  front: number,
  { width, heights }: { readonly width: number; readonly heights: readonly number[] },
  unit: number,
): (GridFit & { readonly captions: number }) | undefined {
  const gap = SMALL_GAP * unit;
  const pictures = Array.from({ length: others }, () => picture);
  const gaps = { gap, caption: CAPTION.room * unit, most: OTHERS * front, spread: true };
  const fits = heights.flatMap((height) => {
    const grid = fitGrid(pictures, { width, height: height + CAPTION.room * unit }, gaps);
    return grid === undefined ? [] : [{ ...grid, score: grid.scale }];
  });
  const grid = best(fits);
  if (grid === undefined) return undefined;
  return { ...grid, captions: (width + gap) / grid.columns - CAPTION.apart * unit };
}

/** @param isHigh whether other colourways may stand lower than any front. */
function layShare(
  subjects: readonly LineSubject[],
  others: number,
  room: Room,
  { share, unit, isHigh }: { readonly share: number; readonly unit: number; readonly isHigh: boolean },
): readonly LaidPictures[] {
  const width = share * room.width;
  const highest = room.height - CAPTION.room * unit;
  const scales = scalesOf(subjects, { width, height: highest });
  const rest = room.width - width - ASIDE * unit;
  if (others > 0 && rest < LEAST_OTHERS * unit) return [];
  const tallest = Math.max(...subjects.map(({ picture }, k) => picture.height * (scales[k] ?? 0)));
  const pictures = subjects.map(({ picture }, k): StylePictures | undefined => {
    const scale = scales[k] ?? 0;
    const [wide, high] = [picture.width * scale, picture.height * scale];
    const front = { x: (width - wide) / 2, width: wide, height: high };
    if (!(high > 0)) return undefined;
    if (others === 0) return { scale, front, others: undefined };
    const heights = isHigh ? [highest] : [high, tallest];
    const grid = layOthers(picture, others, scale, { width: rest, heights }, unit);
    return grid === undefined ? undefined : { scale, front, others: { ...grid, x: room.width - rest } };
  });
  const whole = pictures.filter((one) => one !== undefined);
  if (whole.length < subjects.length) return [];
  const score = whole.reduce(
    (sum, { front, scale, others: grid }) =>
      sum + front.width * front.height * (grid === undefined ? 1 : (grid.scale / scale) ** 0.7),
    0,
  );
  return [{ pictures: whole, score }];
}

function layPictures(
  subjects: readonly LineSubject[],
  others: number,
  room: Room,
  unit: number,
): LaidPictures | undefined {
  const shares = others === 0 ? [1] : SHARES;
  const lay = (isHigh: boolean) =>
    best(shares.flatMap((share) => layShare(subjects, others, room, { share, unit, isHigh })));
  return lay(false) ?? lay(true);
}

/** Words beside the pictures, or below them. */
function layCells(
  subjects: readonly LineSubject[],
  others: number,
  paper: Paper,
  count: number,
  columns: number,
  isLast: boolean,
): readonly LineLayout[] {
  const { unit, left, right, body, bottom } = paper;
  const rows = Math.ceil(count / columns);
  if (columns > 1 && Math.ceil(count / rows) < columns) return [];
  const width = (right - left - (columns - 1) * BETWEEN.x * unit) / columns;
  const height = (bottom - body - (rows - 1) * BETWEEN.y * unit) / rows;
  const wide = Math.max(WORDS.least * unit, WORDS.share * width);
  const high = (across: number) => Math.max(...subjects.map(({ wordsHeight }) => wordsHeight(across)));
  // A page with one style only shows what there is room for, the pictures first.
  const below = isLast ? Math.min(high(width), height / 2) : high(width);
  const forms: readonly (Room & { readonly words: Words })[] = [
    {
      width: width - wide - GAP * unit,
      height,
      words: { x: width - wide, y: 0, width: wide, height: isLast ? height : high(wide) },
    },
    {
      width,
      height: height - below - GAP * unit,
      words: { x: 0, y: height - below, width, height: below },
    },
  ];
  return forms.flatMap(({ words, ...room }) => {
    if (words.y + words.height > height + 1e-6 || room.width < LEAST * unit) return [];
    if (!isLast && room.height < (LEAST + CAPTION.room) * unit) return [];
    const laid = layPictures(subjects, others, room, unit);
    if (laid === undefined) return [];
    const [across, down] = [width + BETWEEN.x * unit, height + BETWEEN.y * unit];
    // Words below stand as high up as the pictures let them, in all cells on one line.
    const lowest = Math.max(...laid.pictures.map(heightOf)) + CAPTION.room * unit;
    const y = words.y === 0 ? 0 : Math.min(words.y, lowest + GAP * unit);
    return [{ count, columns, across, down, words: { ...words, y }, ...laid }];
  });
}

/**
 * The rows and columns in which the pictures of so many styles a page are largest; fewer a page where their words need
 * the room. `undefined` where not even one style has room.
 */
export function layLines(
  subjects: readonly LineSubject[],
  others: number,
  paper: Paper,
  perPage: number,
): LineLayout | undefined {
  for (let most = Math.min(subjects.length, perPage); most > 0; most -= 1) {
    const count = Math.ceil(subjects.length / Math.ceil(subjects.length / most));
    const layouts = Array.from({ length: count }, (_, k) =>
      layCells(subjects, others, paper, count, k + 1, most === 1),
    );
    const found = best(layouts.flat());
    if (found !== undefined) return found;
  }
  return undefined;
}
