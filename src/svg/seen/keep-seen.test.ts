import { describe, expect, it } from "vitest";
import { IDENTITY, scaling } from "../../geometry/index.js";
import { readDrawing } from "../read-drawing.js";
import { element, type SvgElement } from "../tree.js";
import { serialise } from "../xml/serialise.js";
import { keepSeen, type SeenParts } from "./keep-seen.js";

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

  it("is measured once, however deep a shape lies", () => {
    let reads = 0;
    const shape = (d: string): SvgElement => ({
      ...element("path", {}),
      attributes: {
        get d() {
          reads++;
          return d;
        },
      },
    });
    const shapes = [shape("M0 0H5V5Z"), shape("M500 0H505V5Z")];
    const nest = (depth: number): SvgElement =>
      element("g", { opacity: "0.5" }, depth === 1 ? shapes : [nest(depth - 1)]);
    const readsAt = (depth: number): number => {
      reads = 0;
      const { body } = keepInFrame({ body: [nest(depth)], defs: [] });
      expect(body).not.toEqual([nest(depth)]);
      reads = 0;
      keepInFrame({ body: [nest(depth)], defs: [] });
      return reads;
    };
    expect(readsAt(50)).toBe(readsAt(1));
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
