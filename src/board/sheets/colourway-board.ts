import { type Colourway, pickColourway } from "../../colour/index.js";
import { RepetendError } from "../../errors.js";
import { recolour } from "../../repeat/index.js";
import type { SvgElement } from "../../svg/index.js";
import { boardOptions } from "../checks.js";
import { accentOf, TONES, writeIn, writePage } from "../page/page.js";
import { type Paper, readPaper } from "../page/paper.js";
import { writeScale } from "../page/picture-scale.js";
import { drawFoot, drawHead, linesOf } from "../page/sheet-head.js";
import { AS_DRAWN } from "../parts/as-drawn.js";
import { capitalise, describePrint, namePrint } from "../parts/facts.js";
import { type BoardInk, drawSwatches, listBoardInks } from "../parts/swatches.js";
import { windowOf } from "../pictures/cloth-window.js";
import { drawPrint, isPale } from "../pictures/draw-print.js";
import {
  drawGarment,
  type GarmentPicture,
  measureGarment,
  thinGarment,
} from "../pictures/garment-picture.js";
import { shareShapes } from "../pictures/share-shapes.js";
import type { ColourwayBoardOptions, Part } from "../types.js";
import { APART, type BoardLayout, layBoard, NAME } from "./board-layout.js";

/**
 * A colourway board as SVG pages for the wall: one print, or several that share colourways, in every colourway side by
 * side. Every colourway shows the same window of the cloth at the same scale, the garments that are given, its name, and
 * its inks in one order. Rows and columns are those in which the pictures are largest; up to 12 colourways stand on a page,
 * fewer where they would be too small. All letters are drawn: no font is needed.
 *
 * @returns SVG text, a page each, at least one.
 * @throws `RepetendError` `E_SIZE` when there is neither a print nor a garment, and for pages that are not 140 mm to 5 m
 * each way; `E_UNIT` for a length without a known unit; `E_COLOUR` for an ink of a colourway that is no opaque colour;
 * `E_ARGUMENT` for values of a wrong kind; `E_XML` for names with characters that XML does not have.
 * @example
 * ```ts
 * import { colourway, straight } from "repetend";
 * import { colourwayBoard } from "repetend/board";
 * const print = straight({ name: "Plain", width: "16cm", height: "16cm", ground: "#f2ead8", motifs: [] });
 * const pages = colourwayBoard({
 *   prints: [{ print }],
 *   colourways: [colourway("Low Tide", {}), colourway("Nightjar", { "#f2ead8": "#1d1a26" })],
 *   head: { collection: "Saltmarsh", season: "Summer" },
 * });
 * pages.length; // 1
 * ```
 */
export function colourwayBoard(options: ColourwayBoardOptions): readonly string[] {
  boardOptions(options, "options");
  const { prints, garments = [], page = "A3 landscape", head = {} } = options;
  const paper = readPaper(page);
  if (prints.length === 0 && garments.length === 0)
    throw new RepetendError("E_SIZE", "there is nothing to show on a board", {
      where: "prints",
      accepted: "at least one print, or one garment",
    });
  const colourways = options.colourways?.length ? options.colourways : [AS_DRAWN];
  const inks = listBoardInks(prints, colourways);
  const pictures = garments.map(({ dressed }) => measureGarment(dressed));
  const subject = { prints: prints.map(({ print }) => print), garments: pictures };
  const layout = layBoard(subject, inks, paper, colourways.length);
  if (layout === undefined)
    throw new RepetendError("E_SIZE", "the page has no room for all prints and garments of a colourway", {
      where: "page",
      value: `${paper.width} x ${paper.height} mm, ${prints.length} prints, ${garments.length} garments`,
      accepted: "a larger page, or fewer of them",
    });
  const { garments: grid } = layout.pictures;
  const thin = pictures.map((one) => thinGarment(one, grid?.scale ?? 1));

  const framed = prints.map(({ print, colourways: own }) =>
    colourways.some((one) => isPale(recolour(print, pickColourway(own, one)))),
  );

  const { count } = layout;
  const pages = Math.ceil(colourways.length / count);
  const title = options.title ?? titleOf(options);
  const heading = {
    title,
    under: underOf(options, colourways.length),
    // What is the title need not be said again.
    beside: linesOf(head, "collection", "season", "date", "from").filter((line) => line !== title),
  };
  const accent = accentOf(inks.flatMap(({ shades }) => shades[0] ?? []));
  return Array.from({ length: pages }, (_, at) => {
    const cards = colourways.slice(at * count, (at + 1) * count).map((colourway, k) => {
      const [column, row] = [k % layout.columns, Math.floor(k / layout.columns)];
      const place = { x: paper.left + column * layout.across, y: paper.body + row * layout.down };
      const card = { colourway, index: at * count + k, scope: `way-${k + 1}-`, isFirst: column === 0 };
      return drawCard(options, card, { layout, thin, inks, paper, framed }, place);
    });
    const shared = shareShapes(
      { defs: cards.flatMap(({ defs }) => defs), body: cards.flatMap(({ body }) => body) },
      "shape-",
    );
    const number = pages === 1 ? "" : `, page ${at + 1} of ${pages}`;
    return writePage(
      `${heading.title}${number}: colourways`,
      shared.defs,
      [
        ...drawHead(paper, heading, accent),
        ...drawFoot(paper, sayScales(layout), at + 1, pages),
        ...shared.body,
      ],
      paper,
    );
  });
}

function titleOf({ prints, garments = [], head }: ColourwayBoardOptions): string {
  const names = prints.map(({ print }) => print.name);
  if (names.length !== 1 && head?.collection) return head.collection;
  return (names.length > 0 ? names : garments.map(({ dressed }) => dressed.name)).join(", ");
}

function underOf({ prints }: ColourwayBoardOptions, colourways: number): string {
  const [first] = prints;
  const ways = colourways === 1 ? "one colourway" : `${colourways} colourways`;
  if (first === undefined) return capitalise(ways);
  return prints.length === 1 ? describePrint(first.print) : `${prints.length} prints in ${ways}`;
}

/** At which scales the pictures are, and what decides on colour. */
function sayScales({ pictures: { cloth, garments } }: BoardLayout): string {
  const scales = [
    ...(cloth === undefined ? [] : [`Cloth ${writeScale(cloth.scale)}`]),
    ...(garments === undefined ? [] : [`garments ${writeScale(garments.scale)}`]),
  ].join(", ");
  return `${capitalise(scales)}. Inks are sRGB: a strike-off on the cloth decides on colour.`;
}

interface CardFrame {
  readonly layout: BoardLayout;
  readonly thin: readonly GarmentPicture[];
  readonly inks: readonly BoardInk[];
  readonly paper: Paper;
  /** Of each print, whether it has a hairline around it in all colourways: it would be lost on paper in one. */
  readonly framed: readonly boolean[];
}

interface OneCard {
  readonly colourway: Colourway;
  /** Which of the board's that is. */
  readonly index: number;
  /** Of its ids. */
  readonly scope: string;
  /** Whether it is the first of its row, where the names of prints stand. */
  readonly isFirst: boolean;
}

/** One colourway: its cloth, its garments, its name and its inks. */
function drawCard(
  { prints, garments = [] }: ColourwayBoardOptions,
  { colourway, index, scope, isFirst }: OneCard,
  { layout, thin, inks, paper, framed }: CardFrame,
  { x, y }: { readonly x: number; readonly y: number },
): Part {
  const { unit, capitals } = paper;
  const { cloth, garments: grid, bottom } = layout.pictures;
  const parts: Part[] = [];
  const words: SvgElement[] = [];
  const isNamed = prints.length > 1;
  const label = isNamed ? (APART.named - APART.plain) * unit : 0;
  const top = y + label;
  let down = top;
  for (const [k, { print, colourways }] of prints.entries()) {
    if (cloth === undefined) break;
    const height = cloth.heights[k] ?? 0;
    const box = { x, y: down, width: cloth.width, height };
    const shown = recolour(print, pickColourway(colourways, colourway));
    const window = windowOf(print, cloth, height);
    parts.push(drawPrint(shown, window, box, `${scope}cloth-${k + 1}-`, framed[k] ?? true));
    if (isNamed && isFirst) {
      words.push(
        writeIn(namePrint(print), x, down - 1.4 * unit, cloth.width, {
          capital: capitals.small,
          ink: TONES.grey,
        }),
      );
    }
    down += height + (isNamed ? APART.named : APART.plain) * unit;
  }
  for (const [k, picture] of thin.entries()) {
    const place = grid?.places[k];
    if (grid === undefined || place === undefined) break;
    const box = { ...place, x: x + grid.x + place.x, y: top + grid.y + place.y };
    parts.push(
      drawGarment(picture, pickColourway(garments[k]?.colourways, colourway), box, `${scope}worn-${k + 1}-`),
    );
  }
  const name = top + bottom + NAME.above * unit + capitals.name;
  const swatches = { x, y: name + NAME.below * unit, width: layout.width };
  return {
    defs: parts.flatMap(({ defs }) => defs),
    body: [
      ...parts.flatMap(({ body }) => body),
      ...words,
      writeIn(colourway.name, x, name, layout.width, { capital: capitals.name }),
      ...drawSwatches(inks, index, layout.swatches, swatches, paper),
    ],
    bottom: swatches.y + layout.swatches.height,
  };
}
