import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readDrawing } from "../read-drawing.js";

const SHAPE = '<path id="t" d="M0 0H9V9"/>';

/** The fill that a path with the id `t` gets; blue comes from outside of all layers and sheets. */
function fillOf(css: string, shape: string = SHAPE): string | undefined {
  const sheets = css.startsWith("<") ? css : `<style>${css}</style>`;
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9">${sheets}${shape}</svg>`;
  return readDrawing(svg).body[0]?.attributes.fill;
}

const LIME = "#00ff00";

// CSS Cascading and Inheritance 5, sections 6.1, 6.4 and 7.3.6. What Chromium answers to each is the same.
describe("cascade layers", () => {
  it.each([
    ["what is in none wins over any", "@layer a{#t{fill:red}} path{fill:lime}"],
    ["except where it is important", "@layer a{path{fill:lime!important}} #t{fill:red!important}"],
    ["a later one wins, whatever its selectors weigh", "@layer a{#t{fill:red}} @layer b{path{fill:lime}}"],
    [
      "of important ones the earlier wins",
      "@layer a{path{fill:lime!important}} @layer b{#t{fill:red!important}}",
    ],
    ["are ordered as they are first named", "@layer b, a; @layer a{path{fill:lime}} @layer b{#t{fill:red}}"],
    [
      "are the same in all sheets",
      "<style>@layer b{}</style><style>@layer a{path{fill:lime}} @layer b{#t{fill:red}}</style>",
    ],
    ["without a name are each its own", "@layer{#t{fill:red}} @layer{path{fill:lime}}"],
    ["win over those inside", "@layer a{path{fill:lime} @layer x{#t{fill:red}}}"],
    ["count with all that is inside", "@layer a{@layer x{#t{fill:red}}} @layer b{path{fill:lime}}"],
    [
      "may be named by their way in",
      "@layer a.x, a.y; @layer a{@layer y{path{fill:lime}} @layer x{#t{fill:red}}}",
    ],
    ["of one name in two layers are two", "@layer a.x{#t{fill:red}} @layer b.x{path{fill:lime}}"],
    [
      "inside a query that fails do not count",
      "@media print{@layer b;} @layer a{#t{fill:red}} @layer b{path{fill:lime}}",
    ],
    ["may hold queries", "@layer a{@media screen{path{fill:lime}} @supports (fill:red){path{stroke:none}}}"],
    [
      "revert-layer in one leaves what those before say",
      "@layer a{path{fill:lime}} path{fill:red;fill:revert-layer}",
    ],
    ["revert-layer of a custom property", "@layer a{path{--k:lime}} path{--k:revert-layer;fill:var(--k)}"],
  ])("%s", (_, css) => {
    expect(fillOf(css)).toBe(LIME);
  });

  it.each([
    ["a layer wins over attributes", "@layer a{path{fill:lime}}", 'fill="red"'],
    ["style= wins over layers", "@layer a{#t{fill:red}}", 'style="fill:lime"'],
    [
      "important style= wins over important layers",
      "@layer a{#t{fill:red!important}}",
      'style="fill:lime!important"',
    ],
    [
      "revert-layer in style= leaves what sheets say",
      "path{fill:lime}",
      'fill="red" style="fill:revert-layer"',
    ],
    ["revert-layer leaves what attributes say", "path{fill:revert-layer}", 'fill="lime"'],
  ])("%s", (_, css, attributes) => {
    expect(fillOf(css, SHAPE.replace("/>", ` ${attributes}/>`))).toBe(LIME);
  });

  it("the last in the order wins, of important declarations the first", () => {
    const names = ["a", "b", "c", "d"];
    const colours: Readonly<Record<string, string>> = {
      a: "#aa0000",
      b: "#00bb00",
      c: "#0000cc",
      d: "#dd00dd",
    };
    const orders = fc.shuffledSubarray(names, { minLength: names.length });
    fc.assert(
      fc.property(orders, orders, fc.boolean(), (order, written, important) => {
        const blocks = written.map(
          (name) => `@layer ${name}{path{fill:${colours[name]}${important ? "!important" : ""}}}`,
        );
        const winner = (important ? order[0] : order.at(-1)) ?? "";
        expect(fillOf(`@layer ${order.join(",")};${blocks.join("")}`)).toBe(colours[winner]);
      }),
    );
  });
});
