import type { Selector } from "css-tree";
import parse from "css-tree/parser";
import { describe, expect, it } from "vitest";
import { mediaHolds } from "./media.js";
import { parseCss } from "./parse.js";
import { specificityOf } from "./select.js";
import { supportsHolds } from "./supports.js";
import { replaceVar, settleCustomProperties } from "./variables.js";

describe("specificity", () => {
  // CSS Selectors 4, section 17, "Calculating a selector's specificity": its own examples.
  it.each([
    ["*", [0, 0, 0]],
    ["LI", [0, 0, 1]],
    ["UL LI", [0, 0, 2]],
    ["UL OL+LI", [0, 0, 3]],
    ["H1 + *[REL=up]", [0, 1, 1]],
    ["UL OL LI.red", [0, 1, 3]],
    ["LI.red.level", [0, 2, 1]],
    ["#x34y", [1, 0, 0]],
    ["#s12:not(FOO)", [1, 0, 1]],
    [".foo :is(.bar, #baz)", [1, 1, 0]],
    [":is(em, #foo)", [1, 0, 0]],
    [".qux:where(em, #foo#bar#baz)", [0, 1, 0]],
    [":nth-child(even of li, .item)", [0, 2, 0]],
    [":not(em, strong#foo)", [1, 0, 1]],
  ])("of %s", (text, expected) => {
    expect(specificityOf(parse(text, { context: "selector" }) as Selector)).toEqual(expected);
  });
});

describe("media queries", () => {
  it.each([
    ["", true],
    ["all", true],
    ["SCREEN", true],
    ["print", false],
    ["print, screen", true],
    ["not print", true],
    ["only screen", true],
    ["(prefers-color-scheme: light)", true],
    ["screen and (prefers-color-scheme: dark)", false],
    ["not screen and (prefers-color-scheme: dark)", true],
    ["(prefers-color-scheme: dark) or (prefers-reduced-motion: reduce)", true],
    ["not (prefers-color-scheme: dark)", true],
    ["(prefers-color-scheme: light) and (not (prefers-contrast: more))", true],
  ])("%s: %s", (text, holds) => {
    expect(mediaHolds(text)).toBe(holds);
  });

  it("about sizes are refused, since a print has none that they mean", () => {
    expect(() => mediaHolds("(min-width: 600px)")).toThrow("E_FEATURE");
    expect(() => mediaHolds("(400px <= width)")).toThrow("E_FEATURE");
  });
});

describe("@supports", () => {
  const holds = (condition: string): boolean => {
    const sheet = parseCss(`@supports ${condition} {}`, "stylesheet", "1:1");
    const rule = sheet.type === "StyleSheet" ? sheet.children.first : null;
    return supportsHolds(rule?.type === "Atrule" ? rule.prelude : null, "1:1");
  };

  // CSS Conditional Rules 3, section 6.
  it.each([
    ["(fill: red)", true],
    ["(FILL: oklch(0.6 0.1 200))", true],
    ["(--sea: teal)", true],
    ["(d: path('M0 0'))", true],
    ["(translate: 4px)", true],
    ["not (fill: red)", false],
    ["((fill: red))", true],
    ["(fill: red) and (stroke: red) and (not (opacity: 1))", false],
    ["(not (fill: red)) or (mix-blend-mode: multiply)", true],
    ["not ((fill: red) or (stroke: red))", false],
    ["(fill: url(#reed))", true],
    // What nobody here can tell does not matter in these.
    ["(fill: red) or selector(a > b)", true],
    ["(not (fill: red)) and (display-of-tides: spring)", false],
  ])("%s: %s", (condition, expected) => {
    expect(holds(condition)).toBe(expected);
  });

  it.each([
    "(display-of-tides: spring)",
    "not (display-of-tides: spring)",
    "selector(a > b)",
    "font-tech(color-COLRv1)",
    "(fill: red) and selector(a)",
    "(fill: red) and (stroke: red) or (color: red)",
    "not((fill: red))",
    "(fill:)",
    "(fill)",
    "fill",
    "",
  ])("%s is refused", (condition) => {
    expect(() => holds(condition)).toThrow("E_FEATURE");
  });
});

describe("var()", () => {
  const of = (values: Record<string, string>) => (name: string) => values[name];

  it.each([
    ["var(--a)", "teal"],
    ["1 var(--a) 2 var( --b )", "1 teal 2 4"],
    ["var(--c, var(--d, none))", "none"],
    ["var(--c,)", ""],
    ["VAR(--a", "teal"],
    ["rgb(var(--b) 5 6)", "rgb(4 5 6)"],
    ["var(--c, rgb(1, 2, 3))", "rgb(1, 2, 3)"],
    ["url(#not-var(--a))", "url(#not-var(--a))"],
  ])("in %s gives %s", (text, expected) => {
    expect(replaceVar(text, of({ "--a": "teal", "--b": "4" }), "1:1")?.trim()).toBe(expected);
  });

  it("without a value or a fallback makes the declaration count as unset", () => {
    expect(replaceVar("1 var(--gone)", of({}), "1:1")).toBeUndefined();
  });

  it("of custom properties is settled where they are set, and taken over from there", () => {
    const above = new Map([["--sea", "teal"]]);
    const own = new Map([
      ["--line", "var(--sea)"],
      ["--sea", "navy"],
    ]);
    const settled = settleCustomProperties(own, above, "1:1");
    expect(settled.get("--line")).toBe("navy");
    expect(settleCustomProperties(new Map([["--sea", "red"]]), settled, "1:1").get("--line")).toBe("navy");
  });
});
