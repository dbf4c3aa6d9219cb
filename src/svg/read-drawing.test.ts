import { describe, expect, it } from "vitest";
import { readDrawing } from "./read-drawing.js";
import { serialise } from "./xml/serialise.js";

const NS = 'xmlns="http://www.w3.org/2000/svg"';
const read = (inner: string, root: string = 'viewBox="0 0 100 100"') =>
  readDrawing(`<svg ${NS} ${root}>${inner}</svg>`, { scope: "s" });
const written = (inner: string): string => {
  const { defs, body } = read(inner);
  return [...defs, ...body].map((element) => serialise(element)).join("");
};

describe("the frame of a drawing", () => {
  it.each([
    ['width="230mm" height="420mm" viewBox="0 0 230 420"', 230, 420, [0, 0, 230, 420]],
    ['viewBox="1 2 96 48"', 25.4, 12.7, [1, 2, 96, 48]],
    ['width="1in" height="2in"', 25.4, 50.8, [0, 0, 96, 192]],
    ['width="10cm" viewBox="0 0 2 1"', 100, 50, [0, 0, 2, 1]],
    ['height="10cm" viewBox="0 0 2 1"', 200, 100, [0, 0, 2, 1]],
    ['width="100%" height="100%" viewBox="0 0 96 96"', 25.4, 25.4, [0, 0, 96, 96]],
    // Twice as wide as its content: the content stays in the middle, at the start, or is cut.
    ['width="20mm" height="10mm" viewBox="0 0 10 10"', 20, 10, [-5, 0, 20, 10]],
    ['width="20mm" height="10mm" viewBox="0 0 10 10" preserveAspectRatio="xMinYMin"', 20, 10, [0, 0, 20, 10]],
    [
      'width="20mm" height="10mm" viewBox="0 0 10 10" preserveAspectRatio="xMidYMax slice"',
      20,
      10,
      [0, 5, 10, 5],
    ],
    ['width="20mm" height="10mm" viewBox="0 0 10 10" preserveAspectRatio="none"', 20, 10, [0, 0, 20, 10]],
  ])("%s", (root, width, height, box) => {
    const drawing = read("", root);
    expect([drawing.width, drawing.height]).toEqual([width, height]);
    const { viewBox } = drawing;
    [viewBox.x, viewBox.y, viewBox.width, viewBox.height].forEach((value, index) => {
      expect(value).toBeCloseTo(box[index] ?? Number.NaN, 9);
    });
    expect(viewBox.width / viewBox.height).toBeCloseTo(width / height, 9);
  });
});

describe("a resolved drawing", () => {
  it("says a default fill where it paints", () => {
    expect(written('<path d="M0 0H9V9"/><line x2="9" stroke="red"/>')).toBe(
      '<path fill="#000000" d="M0 0H9V9"/><line stroke="#ff0000" x2="9"/>',
    );
  });

  it("says once on a group what all inside say, and opens groups that say nothing", () => {
    expect(written('<g><g fill="teal"><path d="M0 0H9V9"/><path d="M0 0H8V8"/></g></g>')).toBe(
      '<g fill="#008080"><path d="M0 0H9V9"/><path d="M0 0H8V8"/></g>',
    );
    expect(written('<g><g><path d="M0 0H9V9"/></g></g><g/><g opacity="0"><path d="M0 0H9V9"/></g>')).toBe(
      '<path fill="#000000" d="M0 0H9V9"/>',
    );
  });

  it("leaves out what paints nothing", () => {
    const nothing = [
      'fill="none"',
      'fill-opacity="0"',
      'fill="transparent"',
      'fill="none" stroke="red" stroke-width="0"',
    ];
    for (const attributes of nothing) expect(written(`<path ${attributes} d="M0 0H9V9"/>`)).toBe("");
    for (const shape of [
      '<rect width="0" height="9"/>',
      '<circle r="0"/>',
      '<path d=""/>',
      '<ellipse rx="0" ry="3"/>',
    ]) {
      expect(written(shape)).toBe("");
    }
  });

  it("moves the alpha of a colour to its opacity", () => {
    expect(written('<path d="M0 0H9V9" fill="rgb(0 0 0 / 50%)" fill-opacity=".5" stroke="#f008"/>')).toBe(
      '<path fill="#000000" fill-opacity="0.25" stroke="#ff0000" stroke-opacity="0.5333" d="M0 0H9V9"/>',
    );
  });

  it("gives a gradient in one piece, once for all that use it", () => {
    const inner =
      '<linearGradient id="a" x1="10%"><stop stop-color="red"/><stop offset="150%" stop-color="#00f8"/></linearGradient><linearGradient id="b" href="#a" spreadMethod="repeat"/>' +
      '<path d="M0 0H9V9" fill="url(#b)"/><path d="M0 0H8V8" fill="url(#b)"/>';
    expect(written(inner)).toBe(
      '<linearGradient id="s-1" x1="0.1" spreadMethod="repeat"><stop offset="0" stop-color="#ff0000"/><stop offset="1" stop-color="#0000ff" stop-opacity="0.5333"/></linearGradient>' +
        '<g fill="url(#s-1)"><path d="M0 0H9V9"/><path d="M0 0H8V8"/></g>',
    );
  });

  it("keeps only definitions that something painted needs", () => {
    const inner =
      '<clipPath id="none"/><linearGradient id="a"><stop stop-color="red"/><stop offset="1"/></linearGradient>' +
      '<path d="M0 0H9V9" fill="url(#a)" clip-path="url(#none)"/><path d="M0 0H9V9" fill="url(#a)" fill-opacity="0" stroke="teal"/>';
    expect(read(inner).defs).toEqual([]);
  });

  it("keeps a mask's definitions inside of it", () => {
    const { defs } = read(
      '<linearGradient id="a"><stop stop-color="red"/><stop offset="1"/></linearGradient><mask id="m"><path d="M0 0H9V9" fill="url(#a)"/></mask><path d="M0 0H9V9" mask="url(#m)"/>',
    );
    expect(defs.map(({ name }) => name)).toEqual(["mask"]);
    expect(defs[0]?.children.map(({ name }) => name)).toEqual(["linearGradient", "path"]);
  });

  it("clips a viewport only where something leans out of it", () => {
    const nested = (size: number) => `<svg width="50" height="50"><rect width="${size}" height="9"/></svg>`;
    expect(written(nested(50))).not.toContain("clip");
    expect(written(nested(51))).toContain("clip-path");
  });

  it("keeps ids and classes as own data where they are asked for", () => {
    const svg = `<svg ${NS} viewBox="0 0 9 9"><g id="front" class="panel left"><path id="hem" d="M0 0H9V9"/></g></svg>`;
    const [group] = readDrawing(svg, { names: true }).body;
    expect(group?.attributes).toEqual({ "data-repetend-id": "front", "data-repetend-class": "panel left" });
    expect(group?.children[0]?.attributes["data-repetend-id"]).toBe("hem");
    expect(JSON.stringify(readDrawing(svg).body)).not.toContain("front");
  });

  it("may hold an id several times where nothing refers to it; a style sheet means all of them", () => {
    const leaves =
      '<path id="leaf" d="M0 0H9V9"/><path id="leaf" d="M0 0H8V8"/><path id="leaf" d="M0 0H7V7"/>';
    expect(written(`<style>#leaf{fill:teal}</style>${leaves}`)).toBe(
      '<g fill="#008080"><path d="M0 0H9V9"/><path d="M0 0H8V8"/><path d="M0 0H7V7"/></g>',
    );
    const twice = `<svg ${NS} viewBox="0 0 9 9">\n${leaves}</svg>`;
    expect(() => readDrawing(twice, { names: true })).toThrow("2:31: an id stands twice, first at 2:1");
  });

  it("is the same from text and from bytes, with a byte-order mark and without", () => {
    const svg = `<svg ${NS} viewBox="0 0 9 9"><title>hérons</title><path d="M0 0H9V9"/></svg>`;
    const fromBytes = readDrawing(new TextEncoder().encode(`\ufeff${svg}`));
    expect(fromBytes).toEqual(readDrawing(svg));
    expect(readDrawing(`\ufeff${svg}`)).toEqual(fromBytes);
  });

  it("is what it is read from again", () => {
    const inner =
      '<style>.a{fill:oklch(.6 .1 200)}</style><defs><g id="g"><rect class="a" width="20%" height="9" transform="rotate(9)"/></g></defs><use href="#g" x="5" opacity=".5"/><svg x="3" width="50" height="40" viewBox="0 0 9 9"><circle r="7"/></svg>';
    const first = read(inner);
    const again = readDrawing(
      `<svg ${NS} viewBox="0 0 100 100"><defs>${first.defs.map((one) => serialise(one)).join("")}</defs>${first.body.map((one) => serialise(one)).join("")}</svg>`,
      { scope: "s" },
    );
    expect(again.body).toEqual(first.body);
    expect(again.defs).toEqual(first.defs);
  });
});
