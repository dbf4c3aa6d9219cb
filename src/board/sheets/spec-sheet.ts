import type { Colourway } from "../../colour/index.js";
import type { Note } from "../../errors.js";
import { inksOf, measureWords, type Print, recolour } from "../../repeat/index.js";
import { element, type SvgElement } from "../../svg/index.js";
import { sheetOptions } from "../checks.js";
import {
  accentOf,
  boxAttributes,
  CAPITALS,
  PAGE,
  TONES,
  TRACK,
  writeHeading,
  writeIn,
  writePage,
} from "../page/page.js";
import { Pages } from "../page/pages.js";
import { drawPoured, type NoteRooms, pourNotes } from "../page/pour-notes.js";
import { AS_DRAWN } from "../parts/as-drawn.js";
import { cardHeight, drawCard } from "../parts/colourway-card.js";
import { drawFacts } from "../parts/fact-list.js";
import { describePrint, listFacts } from "../parts/facts.js";
import { drawInks, listInks } from "../parts/ink-table.js";
import { drawRepeat } from "../pictures/repeat-picture.js";
import type { Part, SheetSeams, SpecSheetOptions } from "../types.js";

/** The two columns of the first page, and where they begin, in mm. */
const PICTURE = { x: PAGE.left, width: 68 };
const WORDS = { x: PAGE.left + 80, width: PAGE.right - PAGE.left - 80 };
const BODY = PAGE.top + 24;
/** How far down the first page a border's cloth may reach, so that colourways have room below. */
const HALF = 198;
const LEAST_PICTURE = 70;
const GUTTER = 7;
/** Between two parts under each other, and from a heading's top to what it heads. */
const APART = 9;
const HEADING = 6.4;

/**
 * A spec sheet of a print as SVG pages of A4, true to size: the repeat with its size and selvedges, the facts a mill needs,
 * inks with hex, CIE Lab of D50 and what they cover, every colourway with the verdict on its seams, and the notes. A page
 * is enough for four colourways; more, and more notes than fit, go on on further pages. How many pages there are depends on
 * nothing that is only known when the print is drawn: on no figure of `coverage`, on no verdict of `seams`, and not on
 * `findings`: the picture of an all-over print is shorter where these need the room. All letters are drawn, so that no font
 * is needed, and the pages look the same with every renderer.
 *
 * @returns SVG text, a page each, at least one.
 * @throws `RepetendError` `E_COLOUR` when an ink of a colourway is no opaque colour; `E_ARGUMENT` for values of a
 * wrong kind.
 * @example
 * ```ts
 * import { colourway, pixelGrid, straight } from "repetend";
 * import { specSheet } from "repetend/board";
 * const print = straight({ name: "Plain", width: "16cm", height: "16cm", ground: "#f2ead8", motifs: [] });
 * const pages = specSheet({
 *   print,
 *   grid: pixelGrid(print, { dpi: 254 }),
 *   colourways: [colourway("Nightjar", { "#f2ead8": "#1d1a26" })],
 * });
 * pages.length; // 1
 * ```
 */
export function specSheet(options: SpecSheetOptions): readonly string[] {
  sheetOptions(options, "options");
  const { print, grid } = options;
  // How far whole pixels are off stands among the facts already.
  const isNew = ({ code }: Note): boolean => grid === undefined || code !== "N_PIXELS";
  const notes = (options.notes ?? []).filter(isNew);
  const findings = (options.findings ?? []).filter(isNew);
  const planned = laySheet(options, notes.length);
  const { accent } = planned;
  const { poured, shorter } = pourNotes(planned, planned.spare, notes, findings);
  const { pages, putFront, ...rooms } = shorter === 0 ? planned : laySheet(options, notes.length, shorter);
  const told = drawPoured(rooms, poured, accent);
  putFront(told.beside);
  pages.add(told.rest);
  for (const part of told.further) {
    pages.turn();
    pages.add(part);
  }
  return pages.list().map((page, k, all) => {
    const head = k === 0 ? drawTitle(print, accent) : drawRunningTitle(print);
    const title = all.length === 1 ? print.name : `${print.name}, page ${k + 1} of ${all.length}`;
    return writePage(`${title}: spec sheet`, page.defs, [
      ...head,
      ...drawFoot(k + 1, all.length, poured.missing),
      ...page.body,
    ]);
  });
}

/** A sheet with everything but its notes, and the rooms for these. */
interface LaidSheet extends NoteRooms {
  readonly pages: Pages;
  /** Puts notes beside the picture, in paint order. */
  readonly putFront: (part: Part) => void;
  /** How much shorter the picture could be, in mm, so that all below it moves up. */
  readonly spare: number;
  readonly accent: string;
}

/**
 * Lays everything but the notes.
 *
 * @param notes - How many notes are planned with.
 * @param shorter - By how much an all-over print's picture gives way, in mm.
 */
function laySheet(options: SpecSheetOptions, notes: number, shorter = 0): LaidSheet {
  const { print, coverage = [], seams = [] } = options;
  const colourways = options.colourways?.length ? options.colourways : [AS_DRAWN];
  const [first = AS_DRAWN] = colourways;
  const inks = listInks(print, first, coverage);
  const accent = accentOf(inks.flatMap(({ shown }) => shown ?? []));
  const pages = new Pages();

  const facts = drawFacts("Print", listFacts(options), WORDS.x, BODY + CAPITALS.small, WORDS.width);
  const heading = first === AS_DRAWN ? "Inks" : `Inks of ${first.name}`;
  const table = drawInks(heading, print, inks, { ...WORDS, y: facts.bottom + APART, bottom: PAGE.bottom });
  // A border's cloth is tall; of an all-over print as much is shown as leaves room for what stands below.
  const below = cardsHeight(colourways.length, cardHeight(inksOf(print).length)) + notesRoom(notes);
  const least = Math.max(table.bottom, BODY + LEAST_PICTURE);
  const most = print.kind === "border" ? HALF : Math.max(least, Math.min(HALF, PAGE.bottom - below - APART));
  const height = most - BODY - shorter;
  const picture = drawRepeat(recolour(print, first), { ...PICTURE, y: BODY, height }, "repeat-");
  pages.add(facts, table, picture);
  const putFront = pages.keepPlace();
  pages.goTo(Math.max(picture.bottom, table.bottom + APART) + APART);

  for (let listed = table.count; listed < inks.length; ) {
    const part = drawInks(heading, print, inks.slice(listed), pages.turn());
    pages.add(part);
    pages.goTo(part.bottom + APART);
    listed += part.count;
  }
  layCards(pages, options, colourways, seams, accent);
  // The first notes stand beside the picture where there is room.
  const beside = { ...WORDS, y: table.bottom + APART, bottom: picture.bottom };
  // Colourways on a page of their own would not move, or would move to another page than was planned.
  const isMoving = print.kind !== "border" && pages.list().length === 1;
  const spare = isMoving
    ? Math.max(0, picture.bottom - Math.max(table.bottom + APART, BODY + LEAST_PICTURE))
    : 0;
  return { pages, putFront, beside, rest: pages.rest(), spare, accent };
}

/** How high so many cards are, in mm, with their heading. */
function cardsHeight(count: number, height: number): number {
  return HEADING + Math.ceil(count / acrossOf(count)) * (height + APART * 0.8);
}

/** About how much room notes take across the page. */
function notesRoom(count: number): number {
  return count === 0 ? 0 : APART + count * 4.6;
}

/** How many colourways stand in a row. */
const acrossOf = (count: number): number => (count <= 3 ? 3 : 4);

/** Colourways side by side, three or four in a row. */
function layCards(
  pages: Pages,
  { print }: SpecSheetOptions,
  colourways: readonly Colourway[],
  seams: readonly SheetSeams[],
  accent: string,
): void {
  const across = acrossOf(colourways.length);
  const width = (PAGE.right - PAGE.left - (across - 1) * GUTTER) / across;
  const height = cardHeight(inksOf(print).length);
  let headed = false;
  for (let k = 0; k < colourways.length; k += across) {
    if (pages.rest().y + (headed ? 0 : HEADING) + height > PAGE.bottom) {
      pages.turn();
      headed = false;
    }
    if (!headed) {
      const { x, y, width: whole } = pages.rest();
      pages.add({ defs: [], body: writeHeading("Colourways", x, y, whole), bottom: y });
      pages.goTo(y - CAPITALS.small + HEADING);
      headed = true;
    }
    const top = pages.rest().y - CAPITALS.small;
    for (const [column, colourway] of colourways.slice(k, k + across).entries()) {
      const place = { x: PAGE.left + column * (width + GUTTER), y: top, width };
      pages.add(drawCard(print, colourway, seams, place, `way-${k + column + 1}-`, accent));
    }
    pages.goTo(top + height + APART * 0.8);
  }
}

function drawTitle(print: Print, accent: string): readonly SvgElement[] {
  const y = PAGE.top + 4 + CAPITALS.title;
  const room = PAGE.right - PAGE.left;
  // A long name is written smaller before it is cut.
  const fits = room / measureWords(print.name, CAPITALS.title, TRACK);
  const capital = CAPITALS.title * Math.min(1, Math.max(0.55, fits * 0.999));
  return [
    element("rect", { ...boxAttributes({ x: PAGE.left, y: PAGE.top, width: 14, height: 1 }), fill: accent }),
    writeIn(print.name, PAGE.left, y, room, { capital, weight: "light" }),
    writeIn(describePrint(print), PAGE.left, y + 6, 120, {
      ink: TONES.grey,
      capital: CAPITALS.name * 0.9,
    }),
  ];
}

function drawRunningTitle(print: Print): readonly SvgElement[] {
  return [writeIn(print.name, PAGE.left, PAGE.top + CAPITALS.name, 120, { capital: CAPITALS.name })];
}

function drawFoot(page: number, pages: number, missing: number): readonly SvgElement[] {
  const y = PAGE.bottom + 6;
  const small = { ink: TONES.grey, capital: CAPITALS.small };
  const says = "Inks are sRGB; Lab for D50. A strike-off on the cloth decides on colour.";
  const more = missing === 1 ? "1 more note has no room here." : `${missing} more notes have no room here.`;
  return [
    writeIn(missing > 0 && page === pages ? `${says} ${more}` : says, PAGE.left, y, 150, small),
    writeIn(`${page} / ${pages}`, PAGE.right, y, 20, { ...small, align: "end" }),
  ];
}
