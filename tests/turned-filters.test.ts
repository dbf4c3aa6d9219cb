import { describe, expect, it } from "vitest";
import { dress, readSketch, writeDressed } from "../src/garment/index.js";
import { differingShare, renderPixels } from "../src/garment/pictures.fixture.js";
import { motif } from "../src/motif/index.js";
import { straight } from "../src/repeat/build/all-over.js";
import { type PlaceOptions, place } from "../src/repeat/build/place.js";
import { field } from "../src/repeat/draw/field.js";
import type { AllOver } from "../src/repeat/types.js";

const SHAPE = 'd="M8 10H24V28H16V18H8Z" fill="#1b2a41"';
const draw = (inner: string) =>
  motif(
    `<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="40mm" viewBox="0 0 40 40">${inner}</svg>`,
    { name: "shifted", filters: true, clip: false },
  );
const filter = (step: string) =>
  `<filter id="f" filterUnits="userSpaceOnUse" x="-10" y="-10" width="60" height="60">${step}</filter>`;

/** The same picture twice: shifted by a filter, and by hand. */
const PAIRS = {
  shift: [
    draw(`${filter('<feOffset dx="9" dy="3"/>')}<path ${SHAPE} filter="url(#f)"/>`),
    draw(`<path transform="translate(9 3)" ${SHAPE}/>`),
  ],
  "hard shadow of a group that shines through": [
    draw(
      `${filter('<feDropShadow dx="9" dy="-3" stdDeviation="0" flood-color="#c8553d"/>')}<g transform="rotate(15 20 20)" opacity="0.9"><g filter="url(#f)"><path ${SHAPE}/></g></g>`,
    ),
    draw(
      `<g transform="rotate(15 20 20)" opacity="0.9"><path transform="translate(9 -3)" ${SHAPE.replace("#1b2a41", "#c8553d")}/><path ${SHAPE}/></g>`,
    ),
  ],
  "shift in shares of a box": [
    draw(
      `<filter id="f" x="-1" y="-1" width="3" height="3" primitiveUnits="objectBoundingBox"><feOffset dx="0.5" dy="0"/></filter><path ${SHAPE} filter="url(#f)"/>`,
    ),
    draw(`<path transform="translate(8 0)" ${SHAPE}/>`),
  ],
} as const;

const PLACES: readonly Partial<PlaceOptions>[] = [
  { turn: 90 },
  { turn: -37, width: "45mm" },
  { flip: "x" },
  { flip: "y", turn: 25 },
];

const printOf = (one: ReturnType<typeof draw>, options: Partial<PlaceOptions>): AllOver =>
  straight({
    name: "Shifted",
    width: 60,
    height: 60,
    ground: "#ffffff",
    motifs: [place(one, { at: [30, 30], ...options })],
  });

/** A renderer shifts by whole pixels, so that edges lie up to half a pixel off; upright motifs differ by as much. */
const SHIFTED_PIXELS = 0.006;

/** The share of samples that differ by more than half of white to ink. */
const apart = (one: string, other: string) =>
  differingShare(renderPixels(one, 400).data, renderPixels(other, 400).data, 140);

describe("a filter's shift", () => {
  it.each(Object.entries(PAIRS))(
    "goes with its motif when that is turned or mirrored: %s",
    (_, [shifted, drawn]) => {
      for (const options of PLACES) {
        const window = { x: 0, y: 0, width: 60, height: 60 };
        const share = apart(field(printOf(shifted, options), window), field(printOf(drawn, options), window));
        expect([options, share < SHIFTED_PIXELS]).toEqual([options, true]);
      }
    },
  );

  it("goes with a flat panel that is turned, and with its mirror image", () => {
    const sketch = readSketch(
      '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">' +
        '<line id="l" x1="0" y1="0" x2="0" y2="100" stroke="#000"/>' +
        '<path id="p" d="M10 10H45V90H10Z" fill="#fff"/><path id="q" d="M55 10H90V90H55Z" fill="#fff"/></svg>',
    );
    const dressed = (one: ReturnType<typeof draw>) =>
      writeDressed(
        dress(sketch, printOf(one, { turn: 20 }), {
          scale: { of: "#l", is: "20cm" },
          panels: [
            { panel: "#p", grain: 40 },
            { panel: "#q", mirrors: "#p" },
          ],
        }),
      );
    const [shifted, drawn] = PAIRS.shift;
    expect(apart(dressed(shifted), dressed(drawn))).toBeLessThan(SHIFTED_PIXELS);
  });

  it("is told from one that stays behind (the comparison can fail)", () => {
    const window = { x: 0, y: 0, width: 60, height: 60 };
    const [shifted, drawn] = PAIRS.shift;
    expect(
      apart(field(printOf(shifted, { turn: 90 }), window), field(printOf(drawn, { turn: 80 }), window)),
    ).toBeGreaterThan(0.01);
  });
});
