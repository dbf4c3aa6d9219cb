import { describe, expect, it } from "vitest";
import { IDENTITY, scaling, turning } from "../../geometry/index.js";
import { readDrawing } from "../read-drawing.js";
import { element, type SvgElement } from "../tree.js";
import { serialise } from "../xml/serialise.js";
import { leaveOut, paintedBoxes, type ShownThrough } from "./boxes.js";

const window = { x: 0, y: 0, width: 10, height: 10 };
const read = (inner: string) =>
  readDrawing(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10">${inner}</svg>`, {
    scope: "s",
    filters: true,
  });
const left = (inner: string, shown: ShownThrough = { map: IDENTITY, window }) => {
  const { body, defs } = read(inner);
  return leaveOut({ body, defs }, paintedBoxes(body, defs).boxes, shown)
    .map((element) => serialise(element))
    .join("");
};

const near = '<rect fill="red" width="5" height="5"/>';
const far = '<rect fill="blue" x="50" width="5" height="5"/>';

describe("boxes around what a drawing's elements paint", () => {
  it("stand in the order of the elements, groups first, in the drawing's units", () => {
    const { body, defs } = read(
      `<g transform="translate(10)" opacity=".5">${near}<circle r="2" fill="blue" stroke="blue"/></g>${far}`,
    );
    const { box, boxes } = paintedBoxes(body, defs);
    expect(boxes).toEqual([
      ...[7.5, -2.5, 7.5, 7.5],
      ...[10, 0, 5, 5],
      ...[7.5, -2.5, 5, 5],
      ...[50, 0, 5, 5],
    ]);
    expect(box).toEqual({ x: 7.5, y: -2.5, width: 47.5, height: 7.5 });
  });

  it("are measured once, however deep a shape lies", () => {
    let reads = 0;
    const shape: SvgElement = {
      ...element("path", {}),
      attributes: {
        get d() {
          reads++;
          return "M0 0H5V5Z";
        },
      },
    };
    const nest = (depth: number): SvgElement => (depth === 0 ? shape : element("g", {}, [nest(depth - 1)]));
    const readsAt = (depth: number): number => {
      reads = 0;
      expect(paintedBoxes([nest(depth)], []).boxes).toHaveLength(4 * (depth + 1));
      return reads;
    };
    expect(readsAt(50)).toBe(readsAt(1));
  });
});

describe("what a window does not show", () => {
  it("is left out, in groups too, and a group of nothing goes", () => {
    expect(left(`${near}${far}`)).toBe(left(near));
    expect(left(`<g opacity=".5">${near}${far}</g>`)).toMatch(
      /^<g opacity="0.5"><rect [^>]*#ff0000[^>]*\/><\/g>$/,
    );
    expect(left(`${near}<g opacity=".5">${far}${near.replace("width", 'y="30" width')}</g>`)).toBe(
      left(near),
    );
  });

  it("is nothing where all shows: the same list comes back", () => {
    const { body, defs } = read(`${near}<g opacity=".5">${near}<circle r="3" fill="blue"/></g>`);
    expect(leaveOut({ body, defs }, paintedBoxes(body, defs).boxes, { map: IDENTITY, window })).toBe(body);
  });

  it("counts on after what was left out", () => {
    const nested = `<g opacity=".5">${far}<g opacity=".5">${far}${near}</g></g>`;
    expect(left(`${near}<g transform="translate(40)">${nested}</g>${far}<path d="M1 1h3v3"/>`)).toBe(
      left(`${near}<path d="M1 1h3v3"/>`),
    );
  });

  it("is seen through the map, strokes and hairlines and all", () => {
    expect(left(far, { map: scaling(0.1), window })).not.toBe("");
    // A bar from 50 to 55 on the right is one below after a quarter of a turn.
    expect(left(far, { map: turning(Math.PI / 2), window: { x: -4, y: 51, width: 2, height: 2 } })).not.toBe(
      "",
    );
    expect(left(far, { map: turning(Math.PI / 2), window })).toBe("");
    expect(left('<path d="M-9 16H30" stroke="red" stroke-width="9"/>')).not.toBe("");
    expect(left('<path d="M-9 17H30" stroke="red" stroke-width="9"/>')).toBe("");
  });

  it("stays where a group's own box, filter or mask depends on it", () => {
    const clip = '<clipPath id="k" clipPathUnits="objectBoundingBox"><rect width="1" height="1"/></clipPath>';
    expect(left(`${clip}<g clip-path="url(#k)">${near}${far}</g>`)).toContain('x="50"');
    const filter = '<filter id="f"><feOffset dx="-50"/></filter>';
    expect(left(`${filter}<g filter="url(#f)">${near}${far}</g>`)).toContain('x="50"');
    expect(left(`<mask id="m">${near}</mask><g mask="url(#m)">${near}${far}</g>`)).toContain('x="50"');
  });

  it("is all kept where there are not as many boxes", () => {
    const { body, defs } = read(`${near}${far}`);
    const { boxes } = paintedBoxes(body, defs);
    expect(leaveOut({ body, defs }, boxes, { map: IDENTITY, window })).not.toBe(body);
    for (const others of [[], boxes.slice(4), [...boxes, 0, 0, 0, 0]])
      expect(leaveOut({ body, defs }, others, { map: IDENTITY, window })).toBe(body);
  });
});
