import { describe, expect, it } from "vitest";
import { IDENTITY } from "../../geometry/index.js";
import { readDrawing } from "../read-drawing.js";
import { element, type SvgElement } from "../tree.js";
import { nestedOverhang } from "./picture-overhang.js";

const SIZE = 100;
const canvas = { x: 0, y: 0, width: SIZE, height: SIZE };
const overhang = (inner: string) => {
  const { body, defs } = readDrawing(
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100">${inner}</svg>`,
    { scope: "s", filters: true },
  );
  return nestedOverhang(body, defs, { map: IDENTITY, canvas });
};

const near = '<rect width="5" height="5"/>';
const twice = (inside: string, attributes: string = "") =>
  `<g opacity=".5" ${attributes}><g opacity=".5">${inside}</g>${near}</g>`;

describe("how far groups that hold groups leave a canvas", () => {
  it("is nothing for one that holds none, and for one that stays inside", () => {
    expect(overhang('<rect x="-40" width="50" height="5" opacity=".5"/>')).toEqual({ x: 0, y: 0 });
    expect(overhang(twice(near))).toEqual({ x: 0, y: 0 });
  });

  it("is measured to the left and to the top, strokes and all", () => {
    expect(overhang(twice('<rect x="-40" y="-7" width="50" height="50"/>'))).toEqual({ x: 40, y: 7 });
    const stroked = '<rect x="-40" y="-7" width="50" height="50" stroke="red" stroke-width="2"/>';
    expect(overhang(twice(stroked, 'stroke-linejoin="round"'))).toEqual({ x: 41, y: 8 });
  });

  it("is that of the upright box around a turned one, as the renderer has it", () => {
    // A disc of radius 10: turned by an eighth its box reaches out by the root of 2.
    const { x, y } = overhang(twice('<circle r="10"/>', 'transform="rotate(45)"'));
    expect(x).toBeCloseTo(10 * Math.SQRT2, 5);
    expect(y).toBeCloseTo(10 * Math.SQRT2, 5);
  });

  it("counts a group inside that begins beyond the canvas", () => {
    expect(overhang(twice('<rect x="125" width="5" height="5"/>'))).toEqual({ x: 125, y: 0 });
  });

  it("goes by the control points of curves, where what lies inside would be lost", () => {
    // Half of the way to its control point: 75 to the left, the renderer's box 250.
    const reaching = '<path d="M100 0Q-250 50 100 100Z"/>';
    expect(overhang(`<g opacity=".5">${reaching}${near}</g>`)).toEqual({ x: 0, y: 0 });
    expect(overhang(`<g opacity=".5">${reaching}<g opacity=".5">${near}</g></g>`).x).toBeGreaterThan(SIZE);
    const held = '<path d="M100 0Q0 50 100 100Z"/>';
    expect(overhang(`<g opacity=".5">${held}<g opacity=".5">${near}</g></g>`)).toEqual({ x: 0, y: 0 });
  });
});

// Where the renderer ends its process was tried out, shape by shape; what is 8 pixels nearer has no need of room.
describe("what the renderer does not survive", () => {
  const white = '<rect width="10" height="10" fill="#fff"/>';
  const spot = (x: number) => `<rect x="${x}" width="10" height="10" fill="#fff" opacity=".5"/>`;
  const mask = (content: string, more = "") =>
    `<mask id="m" maskUnits="userSpaceOnUse" x="-5000" y="-5000" width="9000" height="9000" ${more}>${white}${content}</mask>`;
  const masked = (at: number) => `<rect x="${at}" width="50" height="50" mask="url(#m)"/>`;
  const inMask = (x: number, at: number) => mask(spot(x)) + masked(at);
  const pattern = (x: number, more = "") =>
    `<pattern id="p" patternUnits="userSpaceOnUse" width="20" height="20" ${more}>${white}${spot(x)}</pattern>`;
  const filled = '<rect width="50" height="50" fill="url(#p)"/>';

  it.each<[string, (x: number) => string, number]>([
    ["in a mask", (x) => inMask(x, 0), 200],
    ["in a mask, to the left", (x) => inMask(x, 0), -214],
    ["in a mask on what begins later", (x) => inMask(x, 40), 240],
    ["in a mask on what begins earlier", (x) => inMask(x, -40), 160],
    [
      "in the mask of a mask",
      (x) => `<mask id="n" mask="url(#m)">${white}</mask>${inMask(x, 0).replace("(#m)", "(#n)")}`,
      200,
    ],
    [
      "in a mask that is put on something in a mask",
      (x) => `<mask id="n">${masked(0)}</mask>${mask(spot(x))}${masked(0).replace("(#m)", "(#n)")}`,
      200,
    ],
    [
      "in shares of a bounding box",
      (x) =>
        `<mask id="m" maskContentUnits="objectBoundingBox"><rect width="1" height="1" fill="#fff"/><rect x="${x / 50}" width=".2" height=".2" fill="#fff" opacity=".5"/></mask>${masked(0)}`,
      200,
    ],
    ["in a pattern", (x) => pattern(x) + filled, 202],
    ["in a pattern, to the left", (x) => pattern(x) + filled, -212],
    ["in a pattern that is drawn larger", (x) => `${pattern(x)}<g transform="scale(2)">${filled}</g>`, 101],
    [
      "in a pattern that is turned",
      (x) => pattern(x, 'patternTransform="rotate(30) scale(2 1)"') + filled,
      113,
    ],
    [
      "in a pattern with a viewBox",
      (x) => pattern(x, 'viewBox="0 0 10 10"').replace('height="20"', 'height="10"') + filled,
      197,
    ],
  ])("asks for room: %s", (_, drawn, dead) => {
    expect(overhang(drawn(dead)).x).toBeGreaterThan(SIZE - 8);
    expect(overhang(drawn(dead - 12 * Math.sign(dead))).x).toBeLessThanOrEqual(SIZE - 8);
  });

  it("has no end where a box is wider than the renderer counts", () => {
    expect(overhang('<rect x="-2e5" width="9e5" height="1" opacity=".5" transform="scale(5000)"/>').x).toBe(
      Number.POSITIVE_INFINITY,
    );
  });
});

describe("shapes", () => {
  it("are measured once, however deep they lie", () => {
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
    const nest = (depth: number): SvgElement =>
      element("g", { opacity: "0.5" }, [depth === 1 ? shape : nest(depth - 1)]);
    const readsAt = (depth: number): number => {
      reads = 0;
      nestedOverhang([nest(depth)], [], { map: IDENTITY, canvas });
      return reads;
    };
    expect(readsAt(50)).toBe(readsAt(1));
  });
});
