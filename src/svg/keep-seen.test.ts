import { describe, expect, it } from "vitest";
import { IDENTITY, scaling } from "../geometry/index.js";
import { keepSeen, nestedOverhang, type SeenParts } from "./keep-seen.js";
import { readDrawing } from "./read-drawing.js";
import { serialise } from "./serialise.js";

const canvas = { x: 0, y: 0, width: 10, height: 10 };
const keepInFrame = (parts: SeenParts) => keepSeen(parts, { map: IDENTITY, canvas });
const read = (inner: string) =>
  readDrawing(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10">${inner}</svg>`, {
    scope: "s",
    filters: true,
  });
const kept = (inner: string): string => {
  const { body, defs } = keepInFrame(read(inner));
  return [...defs, ...body].map((element) => serialise(element)).join("");
};

const near = '<rect width="5" height="5"/>';
const far = '<rect x="50" width="5" height="5"/>';

describe("what is seen of a drawing", () => {
  it("is all of it where nothing is painted as a picture of its own, or nothing lies far off", () => {
    for (const inner of [
      `${near}${far}`,
      `<g opacity=".5">${near}<rect x="10.5" width="2" height="5"/></g>`,
    ]) {
      const drawing = read(inner);
      expect(keepInFrame(drawing).body).toBe(drawing.body);
    }
  });

  it("leaves out groups and shapes that lie outside, and keeps the rest of a group that reaches in", () => {
    expect(kept(`${near}<g opacity=".5">${far}${far}</g>`)).not.toContain('x="50"');
    expect(kept(`${near}<g opacity=".5">${far}${far}</g>`)).toContain('width="5"');
    expect(kept(`<g opacity=".5">${near}${far}</g>`)).toMatch(/opacity="0.5".*width="5"/);
    expect(kept(`<g opacity=".5">${near}${far}</g>`)).not.toContain('x="50"');
    expect(kept(`<rect opacity=".5" x="50" width="5" height="5"/>${near}`)).not.toContain('x="50"');
  });

  it("keeps a stroke that reaches in, and what a group's own box or filter depends on", () => {
    expect(kept('<path opacity=".5" d="M0 50V16" stroke="red" stroke-width="9"/>')).toBe("");
    expect(kept('<path opacity=".5" d="M-5 12H15" stroke="red" stroke-width="9"/>')).toContain("#ff0000");
    const clip = '<clipPath id="k" clipPathUnits="objectBoundingBox"><rect width="1" height="1"/></clipPath>';
    expect(kept(`${clip}<g clip-path="url(#k)">${near}${far}</g>`)).toContain('x="50"');
    const filter = '<filter id="f"><feOffset dx="-50"/></filter>';
    expect(kept(`${filter}<g filter="url(#f)">${near}${far}</g>`)).toContain('x="50"');
    expect(kept(`<mask id="m">${near}</mask><g mask="url(#m)">${near}${far}</g>`)).toContain('x="50"');
  });

  it("is seen through the map of the copy", () => {
    const drawing = read(`<g opacity=".5">${near}${far}</g>`);
    expect(keepSeen(drawing, { map: scaling(0.1), canvas }).body).toBe(drawing.body);
    expect(keepSeen(drawing, { map: scaling(3), canvas }).body).not.toBe(drawing.body);
  });

  it("leaves out of masks what lies outside wherever they are used", () => {
    const mask = `<mask id="m" maskUnits="userSpaceOnUse" width="90" height="90">${near}<g opacity=".5"><rect x="50" y="1" width="5" height="5"/></g></mask>`;
    const one = '<rect width="60" height="9" mask="url(#m)"/>';
    const other = '<g transform="translate(-49)"><rect width="60" height="9" mask="url(#m)"/></g>';
    expect(kept(mask + one)).not.toContain('x="50"');
    expect(kept(mask + one)).toContain('width="5"');
    expect(kept(mask + one + other)).toContain('x="50"');
    const inPattern = `<pattern id="p" width="60" height="9" patternUnits="userSpaceOnUse">${one}</pattern><path d="M0 0H9V9" fill="url(#p)"/>`;
    expect(kept(mask + one + inPattern)).toContain('x="50"');
  });
});

describe("how far groups that hold groups leave a canvas", () => {
  const overhang = (inner: string) => {
    const { body, defs } = read(inner);
    return nestedOverhang(body, defs, { map: IDENTITY, canvas });
  };
  const twice = (inside: string, attributes: string = "") =>
    `<g opacity=".5" ${attributes}><g opacity=".5">${inside}</g>${near}</g>`;

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
    expect(overhang(twice('<rect x="25" width="5" height="5"/>'))).toEqual({ x: 25, y: 0 });
  });
});
