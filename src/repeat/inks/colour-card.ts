import { aText, maybe, partsOf, tableOf } from "../../checks.js";
import { aColourway } from "../../colour/checks.js";
import { type Colourway, contrastRatio, toLab } from "../../colour/index.js";
import { someCoverage } from "../../image/checks.js";
import { BARE, type InkCoverage } from "../../image/index.js";
import { element, type SvgElement, serialise, text, writeNumber } from "../../svg/index.js";
import { aPrint } from "../checks.js";
import type { Print } from "../types.js";
import { drawWords, shortenWords } from "../words/words.js";
import { inksOf } from "./inks.js";

/** What stands on a colour card beside the inks. */
export interface ColourCardOptions {
  /** How much each ink covers, from `coverageOf`. Default: not shown. */
  readonly coverage?: readonly InkCoverage[];
  /** What the inks as drawn are called, for example `{ "#f2ead8": "Foam" }`. Default: no names. */
  readonly names?: Readonly<Record<string, string>>;
}

/** In mm: the card's width, a row, a swatch, and the heights of capitals. */
const CARD = { width: 120, margin: 6, row: 14, swatch: 26, capital: 2.2, heading: 4, paper: "#ffffff" };

const cardOptions = partsOf<ColourCardOptions>({
  coverage: maybe(someCoverage),
  names: maybe(tableOf(aText)),
});

/**
 * A colour card of one colourway as SVG text, true to size: a swatch an ink with its name, hex, CIE Lab (D50, as
 * spectrophotometers have it) and coverage, most used first. Its letters are drawn, so that no font is needed; `rasterise`
 * and `encodePng` make a PNG of it.
 *
 * @throws {@link RepetendError} `E_COLOUR` when an ink of the colourway is no opaque colour.
 * @example
 * ```ts
 * import { colourCard, colourway, straight } from "repetend";
 * const print = straight({ name: "Plain", width: 100, height: 100, ground: "#f2ead8", motifs: [] });
 * const card = colourCard(print, colourway("Nightjar", { "#f2ead8": "#1d1a26" }), { names: { "#f2ead8": "Foam" } });
 * card.includes('fill="#1d1a26"'); // true
 * ```
 */
export function colourCard(print: Print, colourway: Colourway, options: ColourCardOptions = {}): string {
  aPrint(print, "print");
  aColourway(colourway, "colourway");
  cardOptions(options, "options");
  const { coverage = [], names = {} } = options;
  const inks = inksOf(print).map(({ ink }) => ink);
  const { width, margin, row, swatch, capital, heading, paper } = CARD;
  const top = margin + 12;
  const height = top + row * inks.length + margin;
  const [dark, grey] = ["#202020", "#5a5a5a"];
  const room = width - 2 * margin;
  const rows = inks.flatMap((ink, at): readonly SvgElement[] => {
    const shown = colourway.inks[ink] ?? ink;
    const y = top + row * at;
    const { l, a, b } = toLab(shown, "D50");
    const share = coverage.find((one) => one.ink === ink)?.share;
    const title = names[ink] ?? (shown === ink ? "as drawn" : `for ${ink}`);
    const lines = [
      title,
      `${shown}   Lab ${l.toFixed(1)} ${a.toFixed(1)} ${b.toFixed(1)}`,
      ...(share === undefined ? [] : [`covers ${(100 * share).toFixed(2)}%`]),
    ];
    const left = margin + swatch + 4;
    return [
      element("rect", {
        x: writeNumber(margin, 3),
        y: writeNumber(y, 3),
        width: writeNumber(swatch, 3),
        height: writeNumber(row - 2, 3),
        fill: shown,
        ...(contrastRatio(shown, paper) < 1.2 ? { stroke: "#b0b0b0", "stroke-width": "0.2" } : {}),
      }),
      ...lines.map((line, index) =>
        drawWords(shortenWords(line, width - margin - left, capital), {
          x: left,
          y: y + 1 + capital + index * 3.9,
          capital,
          ink: index === 0 ? dark : grey,
        }),
      ),
    ];
  });
  const bare = coverage.find(({ ink }) => ink === BARE)?.share;
  const under = [
    `${inks.length} inks`,
    ...(bare === undefined ? [] : [`bare cloth ${(100 * bare).toFixed(2)}%`]),
  ];
  const size = { width: writeNumber(width, 3), height: writeNumber(height, 3) };
  return serialise(
    element(
      "svg",
      {
        xmlns: "http://www.w3.org/2000/svg",
        width: `${size.width}mm`,
        height: `${size.height}mm`,
        viewBox: `0 0 ${size.width} ${size.height}`,
      },
      [
        element("title", {}, [text(`${print.name}, ${colourway.name}: inks`)]),
        element("rect", { ...size, fill: paper }),
        drawWords(shortenWords(colourway.name, room, heading), {
          x: margin,
          y: margin + heading,
          capital: heading,
          ink: dark,
          weight: "light",
        }),
        drawWords(shortenWords(`${print.name}: ${under.join(", ")}`, room, capital), {
          x: margin,
          y: margin + 6.5 + capital,
          capital,
          ink: grey,
        }),
        ...rows,
      ],
    ),
  );
}
