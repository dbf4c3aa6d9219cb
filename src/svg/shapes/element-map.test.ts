import { describe, expect, it } from "vitest";
import { type Affine, IDENTITY } from "../../geometry/affine.js";
import { childElements } from "../painted/elements.js";
import { readDrawing } from "../read-drawing.js";
import type { SvgElement } from "../tree.js";
import { parseTransform } from "../values/transform.js";

const read = (inner: string, box: string = "0 0 100 100") =>
  readDrawing(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="${box}">${inner}</svg>`, { scope: "s" });

const mapOf = (element: SvgElement | undefined, name: string = "transform"): Affine => {
  const text = element?.attributes[name];
  return text === undefined ? IDENTITY : parseTransform(text);
};

function expectMap(map: Affine, expected: string): void {
  const wanted = parseTransform(expected);
  for (const key of ["a", "b", "c", "d", "e", "f"] as const) expect(map[key]).toBeCloseTo(wanted[key], 3);
}

const rect = (style: string, attributes: string = "") =>
  `<rect x="10" y="20" width="40" height="20" ${attributes} style="${style}"/>`;

const TWICE = "transform:scale(2);transform-box:fill-box";

// CSS Transforms 1, sections 5 and 6. The maps are those that Chromium 156 gives by `getScreenCTM()`.
describe("the box that a transform is measured from", () => {
  it.each([
    ["the viewport, for percentages of a shift", rect("transform:translate(50%,25%)"), "translate(50 25)"],
    [
      "the viewport, for an origin",
      rect("transform:scale(2);transform-origin:center"),
      "translate(-50 -50) scale(2)",
    ],
    [
      "its own, for percentages of a shift",
      rect("transform:translate(50%,50%);transform-box:fill-box"),
      "translate(20 10)",
    ],
    ["its own, whose corner is the origin", rect(TWICE), "translate(-10 -20) scale(2)"],
    [
      "its own, by its other name",
      rect("transform:scale(2);transform-box:content-box"),
      "translate(-10 -20) scale(2)",
    ],
    ["its own, for an origin", rect(`${TWICE};transform-origin:center`), "translate(-30 -30) scale(2)"],
    [
      "its own, for an attribute",
      rect("transform-box:Fill-Box;transform-origin:center", 'transform="rotate(90)"'),
      "translate(60) rotate(90)",
    ],
    [
      "its own, without the stroke",
      rect(`${TWICE};stroke:red;stroke-width:10`),
      "translate(-10 -20) scale(2)",
    ],
    [
      "none, for a shift",
      rect("transform:translate(5px);transform-box:stroke-box;transform-origin:center"),
      "translate(5)",
    ],
  ])("is %s", (_, inner, expected) => {
    expectMap(mapOf(read(inner).body[0]), expected);
  });

  it("begins at the origin of a viewBox that begins elsewhere", () => {
    const { body } = read(rect("transform:scale(2);transform-origin:center"), "10 20 50 50");
    expectMap(mapOf(body[0]), "translate(-25 -25) scale(2)");
  });

  it.each([
    [
      "what is turned inside",
      '<rect x="5" y="5" width="10" height="10" transform="rotate(45)"/>',
      "translate(7.071068 -7.071068)",
    ],
    [
      "what is not seen, and not what is not there",
      '<rect x="5" y="5" width="10" height="10"/><rect x="2" y="1" width="3" height="3" visibility="hidden"/><rect x="1" y="2" width="3" height="3" fill="none"/><rect display="none" width="1" height="1"/><symbol><rect width="1" height="1"/></symbol><rect width="0" height="9"/>',
      "translate(-1 -1)",
    ],
    [
      "upright lines",
      '<rect x="50" y="50" width="10" height="10"/><path d="M3 9V20" stroke="red"/>',
      "translate(-3 -9)",
    ],
    [
      "what a use brings in",
      '<defs><rect id="k" x="1" y="2" width="9" height="9"/></defs><use href="#k" x="3" y="3" transform="scale(2)"/>',
      "translate(-8 -10)",
    ],
    [
      "the one that a switch shows",
      '<switch><g systemLanguage="fr"><rect width="9" height="9"/></g><rect x="4" y="5" width="9" height="9"/></switch>',
      "translate(-4 -5)",
    ],
    [
      "what is moved by its own box inside",
      `<rect x="4" y="6" width="10" height="10" style="${TWICE};transform-origin:100% 100%"/>`,
      "translate(6 4)",
    ],
  ])("of a group is around %s", (_, inner, shift) => {
    const { body } = read(`<g style="${TWICE}">${inner}</g>`);
    expectMap(mapOf(body[0]), `${shift} scale(2)`);
  });

  it("of a path ends where its lines do", () => {
    expectMap(
      mapOf(read(`<path d="M10 20 L20 30 M5 5" style="${TWICE}"/>`).body[0]),
      "translate(-10 -20) scale(2)",
    );
  });

  it("of a clip's shape is the shape's, of a picture is where it lies", () => {
    const { defs } = read(
      `<clipPath id="c">${rect(TWICE)}</clipPath><rect width="99" height="99" clip-path="url(#c)"/>`,
    );
    expectMap(mapOf(defs.flatMap(childElements)[0]), "translate(-10 -20) scale(2)");
    const picture = `<image x="3" y="4" width="10" href="data:image/gif;base64,R0lGODlhAQABAAAAACwAAAAAAQABAAACAkQBADs=" style="${TWICE};transform-origin:bottom right"/>`;
    expectMap(mapOf(read(picture).body[0]), "translate(-13 -14) scale(2)");
  });

  it("is fine also where the element is small and drawn large", () => {
    const { body } = read(
      `<path d="M.00123456 0H.00223456V.001" style="transform:scale(10000);transform-box:fill-box"/>`,
    );
    expectMap(mapOf(body[0]), `translate(${0.00123456 * -9999}) scale(10000)`);
  });

  it.each([
    ["a viewport", `<svg width="9" height="9" style="${TWICE}"><rect width="5" height="5"/></svg>`],
    [
      "a viewport inside",
      `<g style="${TWICE}"><svg width="9" height="9"><rect width="5" height="5"/></svg></g>`,
    ],
    ["a use that moves", `<defs><path id="k" d="M0 0H9V9"/></defs><use href="#k" x="1" style="${TWICE}"/>`],
    [
      "a clip path",
      `<clipPath id="c" style="${TWICE}">${rect("")}</clipPath><rect width="9" height="9" clip-path="url(#c)"/>`,
    ],
    ["a stroke", rect("transform:scale(2);transform-box:stroke-box")],
    ["a stroke, by its other name", rect("transform:scale(2);transform-box:border-box")],
  ])("of %s is refused, since viewers do not agree", (_, inner) => {
    expect(() => read(inner)).toThrow("E_FEATURE");
  });

  it("is not worked out again and again", () => {
    const depth = 60;
    const nested = `${`<g style="${TWICE}">`.repeat(depth)}${rect("")}${"</g>".repeat(depth)}`;
    expect(() => read(nested)).toThrow(/E_INSTANCES|E_NUMBER/);
  });
});

// As Chromium 156 paints them: the property is the attribute of these elements by another name.
describe("the transform property of what is referred to", () => {
  const STOPS = '<stop stop-color="red"/><stop offset="1"/>';
  const painted = (server: string) => read(`${server}<rect width="99" height="99" fill="url(#a)"/>`).defs[0];

  it.each([
    [
      "of a gradient",
      `<linearGradient id="a" style="transform:rotate(90deg)">${STOPS}</linearGradient>`,
      "rotate(90)",
    ],
    [
      "over the attribute",
      `<linearGradient id="a" gradientTransform="translate(.25)" style="transform:translate(.5px)">${STOPS}</linearGradient>`,
      "translate(.5)",
    ],
    [
      "about an origin",
      `<linearGradient id="a" style="transform:rotate(180deg);transform-origin:.5px .5px">${STOPS}</linearGradient>`,
      "rotate(180 .5 .5)",
    ],
    [
      "about the origin of an attribute",
      `<linearGradient id="a" gradientTransform="rotate(180)" transform-origin=".5 .5">${STOPS}</linearGradient>`,
      "rotate(180 .5 .5)",
    ],
    [
      "about the corner of no box",
      `<linearGradient id="a" gradientTransform="scale(2)" style="transform-origin:center;transform-box:fill-box">${STOPS}</linearGradient>`,
      "scale(2)",
    ],
    [
      "of a template",
      `<linearGradient id="b" style="transform:translate(.25px)">${STOPS}</linearGradient><linearGradient id="a" href="#b"/>`,
      "translate(.25)",
    ],
    [
      "over a template's",
      `<linearGradient id="b" gradientTransform="translate(.5)">${STOPS}</linearGradient><linearGradient id="a" href="#b" style="transform:translate(.25px)"/>`,
      "translate(.25)",
    ],
    [
      "none leaves a template's",
      `<linearGradient id="b" gradientTransform="translate(.5)">${STOPS}</linearGradient><linearGradient id="a" href="#b" gradientTransform="translate(.1)" style="transform:none"/>`,
      "translate(.5)",
    ],
  ])("%s", (_, server, expected) => {
    expectMap(mapOf(painted(server), "gradientTransform"), expected);
  });

  it("of a pattern and of a clip path", () => {
    const pattern = painted(
      '<pattern id="a" width="20" height="20" patternUnits="userSpaceOnUse" style="transform:translate(5px,5px)"><rect width="10" height="10"/></pattern>',
    );
    expectMap(mapOf(pattern, "patternTransform"), "translate(5 5)");
    const { defs } = read(
      '<clipPath id="c" style="transform:scale(2);transform-origin:50px 50%"><rect width="9" height="9"/></clipPath><rect width="99" height="99" clip-path="url(#c)"/>',
    );
    expectMap(mapOf(defs[0]), "translate(-50 -50) scale(2)");
  });

  it.each([
    ["a share of a viewport", 'style="transform:translate(25%)"', "E_UNIT"],
    ["an origin in a viewport", 'style="transform-origin:center" gradientTransform="scale(2)"', "E_UNIT"],
    ["the box of a stroke", 'style="transform-box:stroke-box" gradientTransform="scale(2)"', "E_FEATURE"],
  ])("by %s is refused for gradients", (_, attributes, code) => {
    expect(() => painted(`<linearGradient id="a" ${attributes}>${STOPS}</linearGradient>`)).toThrow(code);
  });
});
