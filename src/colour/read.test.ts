import { colorsNamed } from "culori/fn";
import { color, hsl, lab, rgb } from "d3-color";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { toOklch } from "./convert.js";
import { readColour, readColourObject } from "./read.js";

const component = fc.integer({ min: 0, max: 255 });
const hexOf = (...components: number[]): string =>
  `#${components.map((value) => value.toString(16).padStart(2, "0")).join("")}`;

/** As the web platform writes them: `rgb(…)` of three bytes and an optional alpha. */
const expectRgb = (text: string, [r, g, b, alpha = 1]: readonly number[]): void => {
  const read = readColour(text);
  expect({ text, hex: read.hex }).toEqual({ text, hex: hexOf(r ?? 0, g ?? 0, b ?? 0) });
  expect(read.alpha).toBeCloseTo(alpha, 6);
};

describe("readColour", () => {
  // Values of the web-platform-tests, css/css-color/parsing: color-valid-rgb.html.
  it.each<[string, readonly number[]]>([
    ["rgb(none none none)", [0, 0, 0]],
    ["rgb(none none none / none)", [0, 0, 0, 0]],
    ["rgb(128 none none)", [128, 0, 0]],
    ["rgb(20% none none / none)", [51, 0, 0, 0]],
    ["rgb(none none none / 50%)", [0, 0, 0, 0.5]],
    ["rgba(none none none / .5)", [0, 0, 0, 0.5]],
    ["rgb(-2 3 4)", [0, 3, 4]],
    ["rgb(-20% 20% 40%)", [0, 51, 102]],
    ["rgb(257 30 40)", [255, 30, 40]],
    ["rgb(250% 20% 40%)", [255, 51, 102]],
    ["rgba(257 30 40 / 50%)", [255, 30, 40, 0.5]],
  ])("reads %s", expectRgb);

  // Web-platform-tests, css/css-color: the legacy syntax, rounding of halves upwards (rgb-rounding-001.html).
  it.each<[string, readonly number[]]>([
    ["rgb(2.5, 3.4, 4.6)", [3, 3, 5]],
    ["rgb(-2, 3, 4)", [0, 3, 4]],
    ["rgb(10%,20%,30%)", [26, 51, 77]],
    ["rgba(1, 2, 3, 0.5)", [1, 2, 3, 0.5]],
    ["rgba(1, 2, 3, 50%)", [1, 2, 3, 0.5]],
    ["rgb(1, 2, 3, -1)", [1, 2, 3, 0]],
    ["rgb(1, 2, 3, 7)", [1, 2, 3, 1]],
  ])("reads %s", expectRgb);

  // color-valid-hsl.html: among them a tie that goes up, and two colours beside a tie.
  it.each<[string, readonly number[]]>([
    ["hsl(120 30% 50%)", [89, 166, 89]],
    ["hsl(120 30% 50% / 0.5)", [89, 166, 89, 0.5]],
    ["hsl(120 30 50)", [89, 166, 89]],
    ["hsl(120 30% 50)", [89, 166, 89]],
    ["hsl(120, 30%, 50%)", [89, 166, 89]],
    ["hsla(none none none / none)", [0, 0, 0, 0]],
    ["hsl(120 none 50%)", [128, 128, 128]],
    ["hsl(10 100% 50%)", [255, 43, 0]],
    ["hsl(0 0% 49.99999%)", [127, 127, 127]],
    ["hsl(0 0% 49.999999%)", [128, 128, 128]],
    ["hsl(0 -50% 40%)", [102, 102, 102]],
    ["hsl(30 -50 60)", [153, 153, 153]],
  ])("reads %s", expectRgb);

  // color-valid-hwb.html.
  it.each<[string, readonly number[]]>([
    ["hwb(120 30% 50%)", [77, 128, 77]],
    ["hwb(120 30 50 / 0.5)", [77, 128, 77, 0.5]],
    ["hwb(120 80% none)", [204, 255, 204]],
    ["hwb(none 100% 50% / none)", [170, 170, 170, 0]],
    ["hwb(320deg 30% 40%)", [153, 77, 128]],
    ["hwb(0deg 10% 50%)", [128, 26, 26]],
    ["hwb(0 20% 100%)", [43, 43, 43]],
  ])("reads %s", expectRgb);

  it.each([
    // Web-platform-tests, css/css-color: lab-001.html, predefined-001.html and -002.html, display-p3-linear-005.html.
    ["lab(46.277 -47.562 48.583)", "#008000"],
    ["color(srgb 0 0.5 0)", "#008000"],
    ["color(srgb 0% 50% 0%)", "#008000"],
    ["color(display-p3-linear 1 1 0.0895)", "#ffff00"],
    // CSS Color 4, "Specifying Lab and LCH": a worked example.
    ["lab(44.36% 36.05 -58.99)", "#7654cd"],
    // From memory: green as the specification converts it to the other spaces.
    ["color(xyz 0.07719 0.15438 0.02573)", "#008000"],
    ["color(xyz-d65 0.07719 0.15438 0.02573)", "#008000"],
    ["color(srgb-linear 0 0.2159 0)", "#008000"],
    ["lch(46.277 67.989 134.391)", "#008000"],
    ["oklab(51.975% -0.1403 0.10768)", "#008000"],
    ["oklch(51.975% 0.17686 142.495)", "#008000"],
    // By hand: lab(46.277 -47.562 48.583) times the white of D50 (CIE 15:2018, section 8.2.1).
    ["color(xyz-d50 0.08312 0.15475 0.02096)", "#008000"],
    // By hand: a grey of 0.6 to the power of 2.4 is 1.055 * 0.6 - 0.055 = 0.578 in sRGB, of 255 levels 147.39.
    ["color(rec2020 0.6 0.6 0.6)", "#939393"],
  ])("reads %s as %s", (text, hex) => {
    expect(readColour(text)).toEqual({ hex, alpha: 1 });
  });

  // Web-platform-tests, css/css-color: predefined-005.html, -007.html, -009.html. They have sRGB 0 0.5 0 in other spaces,
  // a tie between 127 and 128, by matrices of fewer digits.
  it.each([
    "color(display-p3 0.21508071610847918 0.4922429411940395 0.13085464082643297)",
    "color(a98-rgb 0.2802818995382024 0.4960985025758622 0.11629725327025686)",
    "color(prophoto-rgb 0.22939772862383642 0.393932695752466 0.12935794416938554)",
  ])("reads %s as #007f00 or #008000", (text) => {
    expect(["#007f00", "#008000"]).toContain(readColour(text).hex);
  });

  // color-valid-lab.html says that these are the same colours.
  it.each([
    ["lch(10 20 -700deg)", "lch(10 20 20)"],
    ["lch(10 20 1.28rad)", "lch(10 20 73.3386)"],
    ["oklch(0.1 0.2 740deg)", "oklch(0.1 0.2 20)"],
    ["lab(400 0 10/50%)", "lab(100 0 10 / 0.5)"],
    ["lch(20 -20 0)", "lch(20 0 0)"],
    ["oklab(-0.4 0 0)", "oklab(0 0 0)"],
    ["lab(20 none none / 300%)", "lab(20 0 0)"],
    // From memory: the percentages of the specification.
    ["lab(50% 40% -20%)", "lab(50 50 -25)"],
    ["lch(50% 50% .25turn)", "lch(50 75 100grad)"],
    ["oklab(50% 10% -5%)", "oklab(0.5 0.04 -0.02)"],
    ["oklch(50% 25% 90)", "oklch(0.5 0.1 90)"],
  ])("reads %s as %s", (one, other) => {
    expect(readColour(one)).toEqual(readColour(other));
  });

  // color-mixed-num-pct.html.
  it("mixes numbers, percentages and none in the modern syntax", () => {
    for (const text of ["1.00 0.50 0.200", "100% 50% 20%", "100% 0.5 20%"]) {
      expect(readColour(`color(srgb ${text})`).hex).toBe(hexOf(255, 128, 51));
    }
    expect(readColour("color(srgb 100% none 0.2 / 23.7%)")).toEqual({ hex: hexOf(255, 0, 51), alpha: 0.237 });
    expect(readColour("color(srgb none none none / none)")).toEqual({ hex: "#000000", alpha: 0 });
    expect(readColour("rgb(10% 20 30%)").hex).toBe(hexOf(26, 20, 77));
  });

  // color-invalid.html, color-invalid-color-function.html, and the paints of SVG.
  it.each([
    "auto",
    "123",
    "123456",
    "#12",
    "#12345",
    "#123456789",
    "#ggg",
    "rgb",
    "rgb()",
    "rgb(1)",
    "rgb(1,2,3,4,5)",
    "hsla(1,2,3,4,5)",
    "rgb(10%, 20, 30%)",
    "rgba(-2, 300, 400%, -0.5)",
    "hwba(120 30% 50%)",
    "color(srgb 0 0 0 0)",
    "color(srgb 0deg 0% 0)",
    "color(xyz 0% 0 0deg)",
    "color(lab 20% 0 10 / 50%)",
    "color(banana 0.1 0.2 0.3)",
    "color(--lab-d65 50 0 0)",
    "lab(0% 0 0 1)",
    "lab(40% 0 0deg)",
    "lch(20% 10 10deg 10)",
    "oklch(20% 10 10deg 10 / 0.5)",
    // From memory, after the grammar.
    "rgb (1 2 3)",
    "rgb(1 2 3",
    "rgb(1 2 3))",
    "rgb(1 2 3 4)",
    "rgb(1 2 3 /)",
    "rgb(1 2 / 3)",
    "rgb(1 2, 3)",
    "rgb(none, 2, 3)",
    "hsl(120, 30, 50)",
    "hsl(none, 30%, 50%)",
    "hsl(10% 20% 30%)",
    "rgb(1. 2 3)",
    "rgb(2a)",
    "rgb(255NaN)",
    "color(srgb 5e)",
    "rgb(calc(1) 2 3)",
    "rgb(from red r g b)",
    "color-mix(in srgb, red, blue)",
    "#fff;",
    "red blue",
    "url(#red)",
    "none",
    "currentColor",
    "CanvasText",
    "context-fill",
    "inherit",
    "",
    " ",
    // U+212A, the Kelvin sign, lower-cases to k outside ASCII.
    "blac\u212A",
  ])("refuses %j", (text) => {
    expect(() => readColour(text)).toThrow(/^E_COLOUR/);
  });

  it("knows letter case, white space and comments as CSS does", () => {
    for (const text of [
      "Black",
      " BLACK\n",
      "/* ink */black",
      "RGB(0\f0\r\n0)",
      "rgb(0/**/0/**/0)",
      "#000",
      "#0000000".slice(0, 7),
    ]) {
      expect(readColour(text)).toEqual({ hex: "#000000", alpha: 1 });
    }
    expect(readColour("TransParent")).toEqual({ hex: "#000000", alpha: 0 });
  });

  it("refuses what overflows, and texts longer than any colour, at once", () => {
    expect(() => readColour("lab(50 1e200 0)")).toThrow(
      /^E_COLOUR: a colour has a component that is not finite/,
    );
    expect(() => readColour("oklch(0.5 1e400 0)")).toThrow(/^E_COLOUR/);
    const started = performance.now();
    expect(() => readColour(`rgb(${"1".repeat(10_000_000)},`)).toThrow(
      /^E_COLOUR: a colour is longer than any/,
    );
    expect(performance.now() - started).toBeLessThan(1000);
  });

  it("says where, what was met and what is accepted", () => {
    expect(() => readColour("puce-ish", "reed.svg:3:9 fill")).toThrow(
      /^E_COLOUR reed.svg:3:9 fill: a colour cannot be read \(met "puce-ish"\); accepted: a CSS colour/,
    );
    expect(() => readColour("none")).toThrow(/a paint stands where a colour is needed/);
  });

  it("suggests hexadecimal digits with their sign", () => {
    expect(() => readColour("F2C437")).toThrow(/cannot be read; did you mean "#f2c437"\?/i);
    expect(() => readColour("123")).toThrow(/did you mean "#123"\?/);
    for (const text of ["f2c43", "f2c4377", "g2c437", "12", "123456 "])
      expect(() => readColour(text)).toThrow(
        text === "123456 " ? /did you mean "#123456"/ : /cannot be read \(/,
      );
  });

  it("reads hexadecimal digits of all four lengths", () => {
    fc.assert(
      fc.property(component, component, component, component, (r, g, b, a) => {
        expect(readColour(hexOf(r, g, b).toUpperCase())).toEqual({ hex: hexOf(r, g, b), alpha: 1 });
        expect(readColour(hexOf(r, g, b, a))).toEqual({ hex: hexOf(r, g, b), alpha: a / 255 });
        const short = [r, g, b, a].map((value) => value % 16);
        const doubled = short.slice(0, 3).map((value) => value * 17);
        const digits = short.map((value) => value.toString(16)).join("");
        expect(readColour(`#${digits}`)).toEqual({ hex: hexOf(...doubled), alpha: ((a % 16) * 17) / 255 });
        expect(readColour(`#${digits.slice(0, 3)}`)).toEqual({ hex: hexOf(...doubled), alpha: 1 });
      }),
    );
  });

  it("agrees with d3-color, a second implementation, on names, rgb() and hsl()", () => {
    for (const name of Object.keys(colorsNamed)) expect(readColour(name).hex).toBe(color(name)?.formatHex());
    fc.assert(
      // From 1: d3-color forgets the components of what is fully transparent.
      fc.property(component, component, component, fc.integer({ min: 1, max: 100 }), (r, g, b, percent) => {
        const legacy = `rgba(${r}, ${g}, ${b}, ${percent / 100})`;
        expect(readColour(legacy).hex).toBe(rgb(legacy).formatHex());
        expect(readColour(legacy).alpha).toBeCloseTo(rgb(legacy).opacity, 12);
        const hue = `hsl(${r * 1.4}, ${percent}%, ${(g / 255) * 100}%)`;
        const [mine, theirs] = [rgb(readColour(hue).hex), rgb(hue)];
        // A component next to a tie may round either way.
        for (const key of ["r", "g", "b"] as const)
          expect(Math.abs(mine[key] - theirs[key])).toBeLessThan(0.5001);
      }),
    );
  });

  it("keeps lightness and hue of a colour outside sRGB, and gives up chroma (CSS Color 4, section 13.2)", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.2, max: 0.95, noNaN: true }),
        fc.double({ min: 0, max: 0.5, noNaN: true }),
        fc.double({ min: 0, max: 360, noNaN: true }),
        (l, c, h) => {
          const got = toOklch(readColour(`oklch(${l.toFixed(4)} ${c.toFixed(4)} ${h.toFixed(2)})`).hex);
          // The clip may move the colour by the just noticeable 0.02, the 8-bit rounding by another 0.01 in the darks.
          expect(Math.abs(got.l - l)).toBeLessThan(0.03);
          expect(got.c).toBeLessThan(c + 0.03);
          const turned = Math.abs(((got.h - h + 540) % 360) - 180) * (Math.PI / 180);
          expect(turned * Math.min(c, got.c)).toBeLessThan(0.03);
        },
      ),
    );
  });

  it("maps lightness beyond white and black to white and black", () => {
    expect(readColour("oklch(1 0.3 40)").hex).toBe("#ffffff");
    expect(readColour("lab(100 60 60)").hex).toBe("#ffffff");
    expect(readColour("oklch(0 0.3 40)").hex).toBe("#000000");
  });
});

describe("readColourObject", () => {
  it("reads objects of d3-color in every space, as text is read", () => {
    expect(readColour(rgb(27, 42, 65, 0.5))).toEqual({ hex: "#1b2a41", alpha: 0.5 });
    expect(readColour(hsl(120, 0.3, 0.5)).hex).toBe("#59a659");
    fc.assert(
      fc.property(
        fc.integer({ min: 5, max: 95 }),
        fc.integer({ min: -90, max: 90 }),
        fc.integer({ min: -90, max: 90 }),
        (l, a, b) => {
          // Outside sRGB the two extend the curve to negative light differently.
          fc.pre(lab(l, a, b).displayable());
          const [mine, theirs] = [readColour(`lab(${l} ${a} ${b})`).hex, readColourObject(lab(l, a, b)).hex];
          for (const at of [1, 3, 5]) {
            const [one, other] = [mine, theirs].map((hex) => Number.parseInt(hex.slice(at, at + 2), 16));
            expect(Math.abs((one ?? 0) - (other ?? 0))).toBeLessThanOrEqual(1);
          }
        },
      ),
    );
  });

  it("refuses what is no colour object, and d3-color's NaN", () => {
    for (const value of [null, undefined, 7, {}, { rgb: 1 }]) {
      expect(() => readColour(value as unknown as string, "ink")).toThrow(/^E_COLOUR ink/);
    }
    expect(() => readColourObject(rgb("no colour"))).toThrow(
      /^E_COLOUR: a colour has a component that is not finite/,
    );
  });
});
