import type { Paper } from "../page/paper.js";
import { type BoardInk, fitSwatches, type SwatchGrid } from "../parts/swatches.js";
import { best, type CardPictures, type CardSubject, layPictures } from "../pictures/card-pictures.js";

/** How the cards of a board stand on its pages: all alike, the same on every page. */
export interface BoardLayout {
  /** On a page at most. */
  readonly count: number;
  readonly columns: number;
  /** Of a card, and from one to the next, in mm. */
  readonly width: number;
  readonly across: number;
  readonly down: number;
  readonly pictures: CardPictures;
  readonly swatches: SwatchGrid;
  readonly score: number;
}

/** More cards than this on a page are too many to compare. */
const MOST_CARDS = 12;

/** Distances in units of the paper: between cards, between a card's pictures, and from these to the name below them. */
const BETWEEN = { x: 12, y: 9 } as const;
const GAP = 6;
export const APART = { plain: 3, named: 6.4 } as const;
export const NAME = { above: 3.6, below: 3.2 } as const;

/** Cards and pictures smaller than this say nothing, in units of the paper. */
const LEAST = { width: 34, picture: 24 } as const;
/** Of a card's height, the most that swatches take, and the most where all inks have room then. */
const SWATCHES = { most: 0.4, all: 0.5 } as const;

function layCards(
  subject: CardSubject,
  inks: readonly BoardInk[],
  paper: Paper,
  count: number,
  columns: number,
  isLast: boolean,
): readonly BoardLayout[] {
  const { unit, left, right, body, bottom, capitals } = paper;
  const rows = Math.ceil(count / columns);
  if (columns > 1 && Math.ceil(count / rows) < columns) return [];
  const gutter = BETWEEN.x * unit * (columns > 4 ? 0.7 : 1);
  const width = (right - left - (columns - 1) * gutter) / columns;
  const height = (bottom - body - (rows - 1) * BETWEEN.y * unit) / rows;
  const usual = fitSwatches(inks, width, SWATCHES.most * height, paper);
  const more = usual.shown < inks.length ? fitSwatches(inks, width, SWATCHES.all * height, paper) : usual;
  // The pictures give way where that shows every ink.
  const swatches = more.shown === inks.length ? more : usual;
  const name = (NAME.above + NAME.below) * unit + capitals.name;
  const room = { width, height: height - name - swatches.height };
  const least = LEAST.picture * unit;
  if (!isLast && (width < LEAST.width * unit || room.height < least)) return [];
  const apart = (subject.prints.length > 1 ? APART.named : APART.plain) * unit;
  const labelled = subject.prints.length > 1 ? (APART.named - APART.plain) * unit : 0;
  const pictures = layPictures(
    subject,
    { width, height: room.height - labelled },
    { gap: GAP * unit * Math.min(1, width / (90 * unit) + 0.3), apart },
  );
  if (pictures === undefined) return [];
  const { score } = pictures;
  return [
    {
      count,
      columns,
      width,
      across: width + gutter,
      down: height + BETWEEN.y * unit,
      pictures,
      swatches,
      score,
    },
  ];
}

/**
 * The rows and columns in which the pictures of so many cards are largest; on more pages where they would be too small.
 * `undefined` where not even one card has room.
 */
export function layBoard(
  subject: CardSubject,
  inks: readonly BoardInk[],
  paper: Paper,
  cards: number,
): BoardLayout | undefined {
  for (let most = Math.min(cards, MOST_CARDS); most > 0; most -= 1) {
    // Pages as full as each other.
    const count = Math.ceil(cards / Math.ceil(cards / most));
    const layouts = Array.from({ length: count }, (_, k) =>
      layCards(subject, inks, paper, count, k + 1, most === 1),
    );
    const found = best(layouts.flat());
    if (found !== undefined) return found;
  }
  return undefined;
}
