import { type Colourway, pickColourway } from "../../colour/index.js";
import { RepetendError } from "../../errors.js";
import { recolourInks } from "../../garment/index.js";
import type { SvgElement } from "../../svg/index.js";
import { lineOptions } from "../checks.js";
import { accentOf, TONES, writeIn, writePage } from "../page/page.js";
import { type Paper, readPaper } from "../page/paper.js";
import { drawFoot, drawHead, linesOf } from "../page/sheet-head.js";
import { AS_DRAWN } from "../parts/as-drawn.js";
import type { Fact } from "../parts/facts.js";
import { drawStyle, listStyleFacts, measureStyle } from "../parts/style-facts.js";
import {
  drawGarment,
  type GarmentPicture,
  measureGarment,
  thinGarment,
} from "../pictures/garment-picture.js";
import { shareShapes } from "../pictures/share-shapes.js";
import type { LineSheetOptions, LineStyle, Part } from "../types.js";
import { CAPTION, type LineLayout, layLines } from "./line-layout.js";

/**
 * A line sheet as SVG pages: the styles of a collection for the buyer. Each style has its sketch dressed in the print, the
 * front large and the other colourways small beside it, its name and number, the prints that it is cut from with repeat and
 * cloth width, the cloth that it needs, and what facts the studio gives. All letters are drawn: no font is needed.
 *
 * @returns SVG text, a page each, at least one.
 * @throws `RepetendError` `E_SIZE` when there is no style, and for pages that are not 140 mm to 5 m each way; `E_NUMBER`
 * for styles a page out of range; `E_COLOURWAY` for a front that no colourway is named; `E_UNIT` for a length without a
 * known unit; `E_ARGUMENT` for values of a wrong kind; `E_XML` for words with characters that XML does not have.
 * @example
 * ```ts
 * import { colourway, dress, readSketch, straight } from "repetend";
 * import { lineSheet } from "repetend/board";
 * const sketch = readSketch('<svg xmlns="http://www.w3.org/2000/svg" width="5cm" height="5cm" viewBox="0 0 50 50">' +
 *   '<path id="front" d="M10 10H40V40H10Z" fill="#eeeeee" stroke="#1b2a41"/></svg>');
 * const print = straight({ name: "Plain", width: 80, height: 80, ground: "#1b2a41", motifs: [] });
 * const dressed = dress(sketch, print, { scale: { of: "#front", is: "60cm" }, panels: [{ panel: "#front" }] });
 * const pages = lineSheet({
 *   styles: [{ name: "Smock", number: "SM 02", dressed, facts: [{ name: "Sizes", value: "34 to 44" }] }],
 *   colourways: [colourway("Low Tide", {}), colourway("Dawn", { "#1b2a41": "#e8b4a0" })],
 *   prints: [print],
 *   head: { collection: "Saltmarsh", season: "Summer" },
 * });
 * pages.length; // 1
 * ```
 */
export function lineSheet(options: LineSheetOptions): readonly string[] {
  lineOptions(options, "options");
  const { styles, prints = [], head = {}, page = "A4 portrait", perPage = 3 } = options;
  const paper = readPaper(page);
  if (styles.length === 0)
    throw new RepetendError("E_SIZE", "there is nothing to show on a line sheet", {
      where: "styles",
      accepted: "at least one style",
    });
  if (!Number.isInteger(perPage) || perPage < 1 || perPage > 12)
    throw new RepetendError("E_NUMBER", "so many styles do not go on a page", {
      where: "perPage",
      value: String(perPage),
      accepted: "a whole number, 1 to 12",
    });
  const colourways = options.colourways?.length ? options.colourways : [AS_DRAWN];
  const prepared = styles.map((style, k) => ({
    style,
    facts: listStyleFacts(style, prints),
    picture: measureGarment(style.dressed),
    shown: frontFirst(style, colourways, `styles[${k}].front`),
  }));
  const subjects = prepared.map(({ facts, picture }) => {
    const known = new Map<number, number>();
    const wordsHeight = (width: number): number => {
      const height = known.get(width) ?? measureStyle(facts, width, paper);
      known.set(width, height);
      return height;
    };
    return { picture, wordsHeight };
  });
  const layout = layLines(subjects, colourways.length - 1, paper, perPage);
  if (layout === undefined)
    throw new RepetendError("E_SIZE", "the page has no room for a style in all colourways", {
      where: "page",
      value: `${paper.width} x ${paper.height} mm, ${colourways.length} colourways`,
      accepted: "a larger page, or fewer colourways",
    });

  const pages = Math.ceil(styles.length / layout.count);
  const heading = {
    title: options.title ?? (head.collection || "Line sheet"),
    under: linesOf(head, "season", "date").join(", "),
    beside: linesOf(head, "from"),
  };
  const accent = accentOf(accentInks(styles, colourways));
  return Array.from({ length: pages }, (_, at) => {
    const from = at * layout.count;
    const cells = prepared.slice(from, from + layout.count).map((one, k) => {
      const [column, row] = [k % layout.columns, Math.floor(k / layout.columns)];
      const place = { x: paper.left + column * layout.across, y: paper.body + row * layout.down };
      return drawCell(one, layout, from + k, place, paper);
    });
    const shared = shareShapes(
      { defs: cells.flatMap(({ defs }) => defs), body: cells.flatMap(({ body }) => body) },
      "shape-",
    );
    const number = pages === 1 ? "" : `, page ${at + 1} of ${pages}`;
    return writePage(
      `${heading.title}${number}: line sheet`,
      shared.defs,
      [
        ...drawHead(paper, heading, accent),
        ...drawFoot(paper, sayScale(layout), at + 1, pages),
        ...shared.body,
      ],
      paper,
    );
  });
}

/** The accent comes from the first style as it is shown first. */
function accentInks(styles: readonly LineStyle[], colourways: readonly Colourway[]): readonly string[] {
  const [style] = styles;
  const [first = AS_DRAWN] = colourways;
  const uses = style === undefined ? [] : recolourInks(style.dressed, pickColourway(style.colourways, first));
  return uses.map(({ ink }) => ink).filter((ink) => /^#[0-9a-f]{6}$/.test(ink));
}

/** The colourways of a style, the one that is shown large first. */
function frontFirst(
  { front, colourways: own }: LineStyle,
  colourways: readonly Colourway[],
  where: string,
): readonly Colourway[] {
  const large = front === undefined ? 0 : colourways.findIndex(({ name }) => name === front);
  if (large < 0)
    throw new RepetendError("E_COLOURWAY", "no colourway of the sheet has this name", {
      where,
      value: front ?? "",
      accepted: colourways.map(({ name }) => name).join(", "),
    });
  const order = [...colourways.slice(large, large + 1), ...colourways.filter((_, k) => k !== large)];
  return order.map((colourway) => pickColourway(own, colourway));
}

function sayScale({ pictures }: LineLayout): string {
  const [first] = pictures;
  const isCommon = pictures.every(({ scale }) => scale === first?.scale);
  const scale = isCommon && pictures.length > 1 ? "The large sketches are at one scale. " : "";
  return `${scale}Inks are sRGB: a strike-off on the cloth decides on colour.`;
}

interface PreparedStyle {
  readonly style: LineStyle;
  readonly facts: readonly Fact[];
  readonly picture: GarmentPicture;
  readonly shown: readonly Colourway[];
}

/** One style: its pictures, each with its colourway's name, and its words. */
function drawCell(
  { style, facts, picture, shown }: PreparedStyle,
  { pictures, words }: LineLayout,
  index: number,
  { x, y }: { readonly x: number; readonly y: number },
  paper: Paper,
): Part {
  const { unit, capitals } = paper;
  const laid = pictures[index];
  const [front = AS_DRAWN, ...others] = shown;
  const parts: Part[] = [];
  const names: SvgElement[] = [];
  const caption = { capital: capitals.small, align: "middle" } as const;
  if (laid !== undefined) {
    const thin = thinGarment(picture, laid.scale);
    const box = { x: x + laid.front.x, y, width: laid.front.width, height: laid.front.height };
    const draw = (colourway: Colourway, place: typeof box, room: number, k: number): void => {
      parts.push(drawGarment(thin, colourway, place, `style-${index + 1}-${k + 1}-`));
      const stands = place.y + place.height + CAPTION.stands * unit;
      const ink = k === 0 ? TONES.dark : TONES.grey;
      names.push(writeIn(colourway.name, place.x + place.width / 2, stands, room, { ...caption, ink }));
    };
    draw(front, box, box.width, 0);
    for (const [k, colourway] of others.entries()) {
      const place = laid.others?.places[k];
      if (laid.others === undefined || place === undefined) break;
      const at = { ...place, x: x + laid.others.x + place.x, y: y + place.y };
      draw(colourway, at, laid.others.captions, k + 1);
    }
  }
  const place = { ...words, x: x + words.x, y: y + words.y };
  return {
    defs: parts.flatMap(({ defs }) => defs),
    body: [...parts.flatMap(({ body }) => body), ...names, ...drawStyle(style, facts, place, paper)],
    bottom: place.y + place.height,
  };
}
