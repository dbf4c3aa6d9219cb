import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { growBox } from "../geometry/index.js";
import { motif } from "../motif/index.js";
import { writeDocument } from "../repeat/draw/document.js";
import {
  drawLayers,
  layersInWindow,
  pixelGrid,
  pixelPrint,
  place,
  straight,
  writePixels,
} from "../repeat/index.js";
import { renderNative } from "./native.js";

const number = (least: number, most: number) => fc.integer({ min: least, max: most });
const paint = fc.constantFrom(
  'fill="#1b2a41"',
  'fill="#c8553d" fill-opacity=".6"',
  'fill="none" stroke="#6b7f2a" stroke-width="5" stroke-linejoin="miter" stroke-miterlimit="9"',
  'fill="#f2ead8" stroke="#1b2a41" stroke-width="2" stroke-linecap="square" stroke-dasharray="7 3"',
  'fill="url(#g)"',
);
const shape = fc
  .tuple(paint, number(0, 3), fc.array(number(0, 100), { minLength: 6, maxLength: 6 }))
  .map(([attributes, kind, [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0]]) => {
    if (kind === 0) return `<path ${attributes} d="M${a} ${b}Q${c} ${d} ${e} ${f}L${f} ${a}"/>`;
    if (kind === 1) return `<circle ${attributes} cx="${a}" cy="${b}" r="${1 + c / 5}"/>`;
    if (kind === 2) return `<polyline ${attributes} points="${a} ${b} ${c} ${d} ${a + 3} ${b + 1}"/>`;
    return `<rect ${attributes} x="${a}" y="${b}" width="${1 + c / 4}" height="${1 + d / 4}" rx="${e / 20}"/>`;
  });
const PLAIN = ["", 'transform="rotate(30 50 50)"', 'transform="translate(20 -30) scale(.8)"'] as const;
const LAYERS = [
  ...PLAIN,
  'opacity=".5"',
  'clip-path="url(#c)"',
  'clip-path="url(#b)"',
  'mask="url(#m)"',
  'style="mix-blend-mode:multiply"',
] as const;
const partsIn = (groups: readonly string[]) =>
  fc.letrec<{ parts: string }>((tie) => ({
    parts: fc
      .array(
        fc.oneof(
          { maxDepth: 2, withCrossShrink: true },
          shape,
          fc
            .tuple(fc.constantFrom(...groups), tie("parts"))
            .map(([attributes, inside]) => `<g ${attributes}>${inside}</g>`),
        ),
        { minLength: 1, maxLength: 5 },
      )
      .map((some) => some.join("")),
  })).parts;
const DEFINED =
  '<linearGradient id="g"><stop stop-color="#c8553d"/><stop offset="1" stop-color="#1b2a41"/></linearGradient>' +
  '<clipPath id="c"><circle cx="50" cy="50" r="40"/></clipPath>' +
  '<clipPath id="b" clipPathUnits="objectBoundingBox"><rect x=".1" y=".1" width=".8" height=".8"/></clipPath>' +
  '<mask id="m" maskUnits="userSpaceOnUse" width="100" height="100"><rect width="70" height="90" fill="#fff"/></mask>';

interface Strewn {
  readonly body: string;
  readonly turn: number;
  readonly x: number;
  readonly y: number;
  readonly side: number;
}

/** A window of a print of one drawing: everything drawn that reaches near it, and as it is written for a renderer. */
async function renderBoth({ body, turn, x, y, side }: Strewn, clip: boolean) {
  const drawn = motif(
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100" width="100mm" height="100mm">${DEFINED}${body}</svg>`,
    { clip },
  );
  const motifs = [place(drawn, { at: [60, 60], turn })];
  const print = straight({ name: "Strewn", width: 130, height: 120, motifs });
  const grid = pixelGrid(print, { dpi: 25.4 });
  const onGrid = pixelPrint(print, grid);
  const window = { x, y, width: side, height: side };
  const canvas = growBox(window, 64);
  const { width, height } = canvas;
  const layers = drawLayers(layersInWindow(onGrid, canvas), { window: canvas, digits: 4 });
  const whole = writeDocument(layers, { width, height, unit: "", digits: 0, title: "", description: "" });
  const shown = writePixels(onGrid, window, { overscan: 64 });
  const size = { width, height, overscan: 64 };
  return [await renderNative(whole, size), await renderNative(shown, size)] as const;
}

/** Samples as much as they cover: of what hardly covers a pixel the colour says nothing. */
const paintOf = (data: Uint8Array): readonly number[] =>
  Array.from(data, (value, at) => (at % 4 === 3 ? value : (value * (data[at - (at % 4) + 3] ?? 0)) / 255));

const strewn = (groups: readonly string[]) =>
  fc.record({
    body: partsIn(groups),
    turn: number(0, 359),
    x: number(0, 150),
    y: number(0, 150),
    side: number(20, 90),
  });

describe("a window of a print", () => {
  it("has the same pixels as where all that reaches near it is drawn", async () => {
    await fc.assert(
      fc.asyncProperty(strewn(PLAIN), async (one) => {
        const [whole, shown] = await renderBoth(one, false);
        expect(Buffer.compare(whole.data, shown.data)).toBe(0);
      }),
      { numRuns: 150 },
    );
  });

  it("has nearly the same where groups are pictures of their own, which are placed from their own corners", async () => {
    await fc.assert(
      fc.asyncProperty(strewn(LAYERS), async (one) => {
        const [whole = [], shown = []] = (await renderBoth(one, true)).map(({ data }) => paintOf(data));
        const apart = whole.map((value, at) => Math.abs(value - (shown[at] ?? 0)));
        // A sixteenth of a pixel more or less along an edge, where a place is rounded the other way; along a line of a
        // pixel's width that turns over more of what it covers.
        expect(apart.filter((levels) => levels > 48).length).toBeLessThanOrEqual(4 + apart.length / 1000);
        expect(apart.filter((levels) => levels > 2).length).toBeLessThanOrEqual(4 + apart.length / 50);
      }),
      { numRuns: 150 },
    );
  });
});
