import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Box } from "../geometry/index.js";
import { paintedBoxes, serialise } from "../svg/index.js";
import { motif } from "./motif.js";
import { recolourMotif } from "./recolour.js";

const svg = (inner: string) =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">${inner}</svg>`;
const reachOf = (inner: string, clip: boolean = true): Box => motif(svg(inner), { clip }).reach;

const box = (x: number, y: number, width: number, height: number): Box => ({ x, y, width, height });
const expectBox = (found: Box, expected: Box) => {
  for (const side of ["x", "y", "width", "height"] as const)
    expect(found[side]).toBeCloseTo(expected[side], 4);
};

describe("the boxes of a motif", () => {
  it.each([
    ["inside its frame", '<g opacity=".5"><rect width="9" height="9"/><circle cx="50" cy="50" r="9"/></g>'],
    ["that leans out and is cut", '<g opacity=".5"><rect x="-5" width="9" height="9"/><circle r="9"/></g>'],
    ["that is all outside", '<rect x="200" width="9" height="9"/><rect x="300" width="9" height="9"/>'],
  ])("are those of its body: one %s", (_, inner) => {
    const { boxes, body, defs } = motif(svg(inner));
    expect(boxes.length).toBeGreaterThan(4);
    expect(boxes).toEqual(paintedBoxes(body, defs).boxes);
  });
});

describe("the reach of a motif", () => {
  it.each([
    ["a fill", '<circle cx="50" cy="50" r="20"/>', box(30, 30, 40, 40)],
    ["a stroke", '<path d="M20 50H80" stroke="red" stroke-width="10"/>', box(15, 45, 70, 10)],
    ["a curve, not its control points", '<path d="M20 50C20 10 80 10 80 50Z"/>', box(20, 20, 60, 30)],
    [
      "square caps, to their corners",
      '<path d="M20 50H80" stroke="red" stroke-width="10" stroke-linecap="square" stroke-linejoin="round"/>',
      box(20 - 5 * Math.SQRT2, 50 - 5 * Math.SQRT2, 60 + 10 * Math.SQRT2, 10 * Math.SQRT2),
    ],
    // A right angle's miter is the root of 2 long.
    [
      "miters",
      '<path fill="none" d="M20 80H80V20" stroke="red" stroke-width="10"/>',
      box(20 - 5 * Math.SQRT2, 20 - 5 * Math.SQRT2, 60 + 10 * Math.SQRT2, 60 + 10 * Math.SQRT2),
    ],
    [
      "a join that is too sharp for a miter",
      '<path fill="none" d="M20 50H80L20 52" stroke="red" stroke-width="10"/>',
      box(15, 45, 70, 12),
    ],
    [
      "a stroke under an uneven scale",
      '<g transform="scale(2 1)"><path d="M10 50H40" stroke="red" stroke-width="10"/></g>',
      box(10, 45, 80, 10),
    ],
    [
      "turned content",
      '<rect x="-10" y="-10" width="20" height="20" transform="translate(50 50) rotate(45)"/>',
      box(50 - 10 * Math.SQRT2, 50 - 10 * Math.SQRT2, 20 * Math.SQRT2, 20 * Math.SQRT2),
    ],
    [
      "what a clip leaves",
      '<clipPath id="c"><rect x="10" y="10" width="30" height="90"/></clipPath><rect width="100" height="30" clip-path="url(#c)"/>',
      box(10, 10, 30, 20),
    ],
    [
      "what a mask's region leaves",
      '<mask id="m" maskUnits="userSpaceOnUse" x="10" y="0" width="30" height="100"><rect width="100" height="100" fill="#fff"/></mask><rect width="100" height="30" mask="url(#m)"/>',
      box(10, 0, 30, 30),
    ],
    [
      "markers",
      '<marker id="m" markerUnits="userSpaceOnUse" markerWidth="20" markerHeight="20" refX="10" refY="10"><rect width="20" height="20"/></marker><path d="M30 50H70" stroke="red" stroke-width="2" stroke-linejoin="bevel" marker-end="url(#m)"/>',
      box(29, 40, 51, 20),
    ],
    [
      "a use of a symbol",
      '<symbol id="s" viewBox="0 0 10 10"><circle cx="5" cy="5" r="5"/></symbol><use href="#s" x="20" y="30" width="40" height="40"/>',
      box(20, 30, 40, 40),
    ],
  ])("holds %s", (_, inner, expected) => {
    expectBox(reachOf(inner), expected);
  });

  it("holds the region of a filter", () => {
    const inner =
      '<filter id="f" x="-50%" y="0" width="200%" height="100%"><feGaussianBlur stdDeviation="3"/></filter><rect x="40" y="40" width="20" height="20" filter="url(#f)"/>';
    const made = motif(svg(inner), { filters: true });
    expectBox(made.reach, box(30, 40, 40, 20));
    expect(made.effects).toEqual(["filter"]);
    expectBox(motif(svg(inner)).reach, box(40, 40, 20, 20));
  });

  it("is cut at the frame, with a clip, unless that is not wanted", () => {
    const inner = '<circle cx="90" cy="50" r="30"/>';
    expectBox(reachOf(inner), box(60, 20, 40, 60));
    expect(motif(svg(inner)).body[0]?.attributes["clip-path"]).toBeDefined();
    expectBox(reachOf(inner, false), box(60, 20, 60, 60));
    expect(motif(svg('<rect width="100" height="100"/>')).defs).toEqual([]);
  });

  it("of nothing is a point in the middle", () => {
    expect(reachOf("<g/>")).toEqual(box(50, 50, 0, 0));
  });
});

describe("the inks of a motif", () => {
  const inksOf = (inner: string) => motif(svg(inner)).inks;

  it("are counted by use, most used first, ties by ink", () => {
    const inner =
      '<linearGradient id="a"><stop stop-color="#111111"/><stop offset="1" stop-color="teal"/></linearGradient>' +
      '<g fill="teal"><path d="M0 0H9V9"/><path d="M0 0H8V8" stroke="#111111"/></g><path d="M0 0H7V7" fill="url(#a)"/><path d="M0 0H7V6" fill="red"/>';
    expect(inksOf(inner)).toEqual([
      { ink: "#008080", uses: 3 },
      { ink: "#111111", uses: 2 },
      { ink: "#ff0000", uses: 1 },
    ]);
  });

  it("are those that paint: black by default too, but no mask's, no clip's, and no line's fill", () => {
    const inner =
      '<mask id="m"><rect width="99" height="99" fill="#ffffff"/></mask><clipPath id="c"><rect width="99" height="99" fill="red"/></clipPath>' +
      '<path d="M0 0H9V9" mask="url(#m)" clip-path="url(#c)"/><line x2="9" fill="red" stroke="teal"/><rect width="9" height="9" fill="red" opacity="0"/>';
    expect(inksOf(inner)).toEqual([
      { ink: "#000000", uses: 1 },
      { ink: "#008080", uses: 1 },
    ]);
  });

  it("do not include those of pictures, which are noted", () => {
    const png =
      "iVBORw0KGgoAAAANSUhEUgAAAAIAAAACCAIAAAD91JpzAAAACXBIWXMAAAPoAAAD6AG1e1JrAAAAFklEQVQImWM4EWAjZxPF8OHZJZueKAAmLgXTiS/1lQAAAABJRU5ErkJggg==";
    const made = motif(svg(`<image width="9" height="9" href="data:image/png;base64,${png}"/>`));
    expect(made.inks).toEqual([]);
    expect(made.removed.map(({ code }) => code)).toEqual(["N_IMAGE"]);
  });

  it("know blend modes, which are not linear", () => {
    expect(motif(svg('<path d="M0 0H9V9" style="mix-blend-mode:multiply"/>')).effects).toEqual(["multiply"]);
  });
});

describe("recolourMotif", () => {
  const made = motif(
    svg(
      '<radialGradient id="a"><stop stop-color="teal"/><stop offset="1" stop-color="#ffffff"/></radialGradient><mask id="m"><rect width="99" height="99" fill="teal"/></mask>' +
        '<pattern id="p" width=".5" height=".5"><rect width="3" height="3" fill="teal"/></pattern><g stroke="navy"><path d="M0 0H9V9" fill="url(#a)" mask="url(#m)"/><path d="M0 0H8V9" fill="url(#p)"/></g>',
    ),
  );

  it("changes fills, strokes, stops and what patterns paint, but not masks", () => {
    const changed = recolourMotif(made, { "#008080": "#aa0000", "#000080": "#00aa00" });
    const text = [...changed.defs, ...changed.body].map((element) => serialise(element)).join("");
    expect(text.match(/#aa0000/g)).toHaveLength(2);
    expect(text).toMatch(/<mask.*#008080.*<\/mask>/);
    expect(text).toContain('stroke="#00aa00"');
    expect(changed.inks.map(({ ink }) => ink)).toEqual(["#00aa00", "#aa0000", "#ffffff"]);
  });

  it("lets inks trade places, and is undone by the same trade", () => {
    const trade = { "#008080": "#000080", "#000080": "#008080" };
    const changed = recolourMotif(made, trade);
    expect(changed).not.toEqual(made);
    expect(recolourMotif(changed, trade)).toEqual(made);
  });

  it("gives the same motif back where nothing changes", () => {
    expect(recolourMotif(made, {})).toBe(made);
    expect(recolourMotif(made, { "#123456": "#000000" })).toBe(made);
    expect(recolourMotif(made, { "#008080": "#008080" })).toBe(made);
  });

  it("of a drawing is the drawing in the other colours", () => {
    const ink = fc
      .integer({ min: 0, max: 0xffffff })
      .map((value) => `#${value.toString(16).padStart(6, "0")}`);
    const drawing = (one: string, other: string) =>
      svg(
        `<g fill="${one}"><path d="M0 0H9V9"/><path d="M0 0H8V9" stroke="${other}"/></g><circle cx="50" cy="50" r="9" fill="${other}"/>`,
      );
    fc.assert(
      fc.property(ink, ink, ink, ink, (a, b, c, d) => {
        fc.pre(a !== b && c !== d);
        const changed = recolourMotif(motif(drawing(a, b), { clip: false }), { [a]: c, [b]: d });
        const drawn = motif(drawing(c, d), { clip: false });
        expect(changed.body).toEqual(drawn.body);
        expect(changed.inks).toEqual(drawn.inks);
      }),
    );
  });
});
