import { made, maybe } from "../../checks.js";
import { anImage } from "../../image/checks.js";
import type { PixelImage } from "../../image/index.js";
import { element, type SvgElement, serialise, text, writeNumber } from "../../svg/index.js";
import { onWhite } from "../strip/strip.js";
import { acrossStripes } from "./normal.js";
import type { LiningReport, LiningStripe } from "./types.js";

/** The mosaic behind the stripes has so many squares along its longer side: stripes are broad. */
const SQUARES = 64;

const DIGITS = 3;
const number = (value: number): string => writeNumber(value, DIGITS);
const hex = (level: number): string => Math.round(level).toString(16).padStart(2, "0");

/** A picture as squares of its mean colours: enough to see where a stripe lies, and no file inside the file. */
function mosaic(image: PixelImage, width: number, height: number): readonly SvgElement[] {
  const size = Math.max(image.width, image.height) / SQUARES;
  const [columns, rows] = [Math.ceil(image.width / size), Math.ceil(image.height / size)];
  const squares: SvgElement[] = [];
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      const sums = [0, 0, 0];
      let count = 0;
      const [right, lower] = [
        Math.min(image.width, (column + 1) * size),
        Math.min(image.height, (row + 1) * size),
      ];
      for (let y = Math.floor(row * size); y < lower; y++)
        for (let x = Math.floor(column * size); x < right; x++) {
          const from = y * image.stride + x * image.channels;
          const alpha = image.channels === 4 ? (image.data[from + 3] ?? 255) : 255;
          for (let channel = 0; channel < 3; channel++) {
            const level = image.data[from + (image.channels === 1 ? 0 : channel)] ?? 0;
            sums[channel] = (sums[channel] ?? 0) + onWhite(level, alpha);
          }
          count++;
        }
      squares.push(
        element("rect", {
          x: number((column / columns) * width),
          y: number((row / rows) * height),
          // A little over the next one, so that no hairline shows where they meet.
          width: number((1.05 / columns) * width),
          height: number((1.05 / rows) * height),
          fill: `#${sums.map((sum) => hex(sum / Math.max(1, count))).join("")}`,
        }),
      );
    }
  return squares;
}

/** All lines of one set of stripes that meet the rectangle. */
function drawStripe(stripe: LiningStripe, report: LiningReport, colour: string): readonly SvgElement[] {
  const { width, height } = report;
  const across = acrossStripes(stripe.angle);
  const along = { x: -across.y, y: across.x };
  const corners = [0, width * across.x, height * across.y, width * across.x + height * across.y];
  const reach = width + height;
  const lines: SvgElement[] = [];
  const first = Math.ceil((Math.min(...corners) - stripe.position) / stripe.period);
  const last = Math.floor((Math.max(...corners) - stripe.position) / stripe.period);
  for (let k = first; k <= last; k++) {
    const from = stripe.position + k * stripe.period;
    const at = { x: from * across.x, y: from * across.y };
    lines.push(
      element("line", {
        x1: number(at.x - reach * along.x),
        y1: number(at.y - reach * along.y),
        x2: number(at.x + reach * along.x),
        y2: number(at.y + reach * along.y),
        stroke: colour,
        "stroke-width": number(Math.max(stripe.width, report.width / 200)),
        "stroke-opacity": "0.35",
      }),
    );
  }
  return lines;
}

const COLOURS = ["#c8553d", "#1f6f8b", "#7a4f9e", "#5b8c3a"];

/** Set as small type under the map, relative to its width. */
const TYPE = 0.03;

function caption(stripe: LiningStripe): string {
  const causes = stripe.causes.map((cause) => (cause.kind === "gap" ? "a gap" : cause.motif));
  const why = causes.length === 0 ? "" : `: ${causes.join(", ")}`;
  return `${stripe.tone} at ${stripe.angle.toFixed(0)}°, every ${stripe.period.toFixed(1)} mm, strength ${stripe.strength.toFixed(1)}${why}`;
}

/**
 * Draws a lining report: the tile with every set of stripes laid over it, each in a colour of its own, and a line of words for each
 * below. Without an image the tile is left white.
 *
 * @returns SVG text, true to size in mm.
 * @example
 * ```ts
 * import { checkLining, drawLining } from "repetend";
 * const plain = { width: 64, height: 64, channels: 1, data: new Uint8Array(4096).fill(200), stride: 64 } as const;
 * drawLining(checkLining(plain), plain).startsWith("<svg"); // true
 * ```
 */
export function drawLining(report: LiningReport, image?: PixelImage): string {
  made("a report, from checkLining()", "lining-report")(report, "report");
  maybe(anImage)(image, "image");
  const { width, height, stripes } = report;
  const line = width * TYPE * 1.4;
  const lines = stripes.length === 0 ? ["no stripes show"] : stripes.map(caption);
  const total = height + line * (lines.length + 0.6);
  const colour = (index: number) => COLOURS[index % COLOURS.length] ?? "#c8553d";
  return serialise(
    element(
      "svg",
      {
        xmlns: "http://www.w3.org/2000/svg",
        width: `${number(width)}mm`,
        height: `${number(total)}mm`,
        viewBox: `0 0 ${number(width)} ${number(total)}`,
      },
      [
        element("title", {}, [text(`Lining at ${report.distance} m`)]),
        element("rect", { width: number(width), height: number(total), fill: "#ffffff" }),
        element(
          "svg",
          { width: number(width), height: number(height), viewBox: `0 0 ${number(width)} ${number(height)}` },
          [
            ...(image ? mosaic(image, width, height) : []),
            ...stripes.flatMap((stripe, index) => drawStripe(stripe, report, colour(index))),
          ],
        ),
        ...lines.map((words, index) =>
          element(
            "text",
            {
              x: number(width * 0.01),
              y: number(height + line * (index + 1)),
              "font-family": "sans-serif",
              "font-size": number(width * TYPE),
              fill: stripes.length === 0 ? "#333333" : colour(index),
            },
            [text(words)],
          ),
        ),
      ],
    ),
  );
}
