import fc from "fast-check";
import { parseSync, stringify } from "svgson";
import { describe, expect, it } from "vitest";
import { fromSvgson, toSvgson } from "../svgson.js";
import { element, type SvgElement, type SvgNode, text } from "../tree.js";
import { parseTree } from "./parse.js";
import { serialise } from "./serialise.js";

const NS = "http://www.w3.org/2000/svg";
const letters = fc.string({
  unit: fc.constantFrom(..."ab &<>\"'\t\n;]é貝#10".split(""), "&amp;", "&#38;", "]]>", "]]>]]>", "🦀"),
  maxLength: 12,
});
/** Line ends of XML are single line feeds, and svgson drops what is white space only. */
const words = letters.filter((value) => value.trim() !== "");
const attributes = fc.dictionary(fc.constantFrom("data-id", "fill", "data-a", "d"), letters);

const trees: fc.Arbitrary<SvgElement> = fc.letrec<{ tree: SvgElement }>((tie) => ({
  tree: fc
    .record({
      name: fc.constantFrom("g", "path", "title"),
      attributes,
      children: fc.array(fc.oneof({ depthSize: "small" }, words.map(text), tie("tree")), { maxLength: 3 }),
    })
    .map((made) => element(made.name, made.attributes, joinTexts(made.children))),
})).tree;

/** Text beside text cannot be told apart once it is written. */
function joinTexts(children: readonly SvgNode[]): readonly SvgNode[] {
  const joined: SvgNode[] = [];
  for (const child of children) {
    const last = joined.at(-1);
    if (child.type === "text" && last?.type === "text")
      joined[joined.length - 1] = text(last.value + child.value);
    else joined.push(child);
  }
  return joined;
}

const root = (tree: SvgElement): SvgElement => element("svg", { xmlns: NS }, [tree]);

describe("a tree written as text", () => {
  it("reads back as the same tree", () => {
    fc.assert(
      fc.property(trees, (tree) => {
        expect(parseTree(serialise(root(tree)))).toEqual(root(tree));
      }),
    );
  });

  it("keeps the order of attributes and adds no white space of its own", () => {
    const tree = root(element("path", { z: "1", a: "2" }));
    expect(serialise(tree)).toBe(`<svg xmlns="${NS}"><path z="1" a="2"/></svg>`);
    expect(serialise(tree, { indent: 2 })).toBe(`<svg xmlns="${NS}">\n  <path z="1" a="2"/>\n</svg>`);
  });

  it("cannot smuggle in markup by a name", () => {
    expect(() => serialise(element("g/><script", {}))).toThrow("E_XML");
    expect(() => serialise(element("g", { 'a="" onload': "x" }))).toThrow("E_XML");
    expect(() => serialise(element("g", { a: "\u0000" }))).toThrow("E_XML");
  });
});

describe("trees of svgson", () => {
  it("come back through its stringify and parse as they were", () => {
    fc.assert(
      fc.property(trees, (tree) => {
        expect(fromSvgson(parseSync(stringify(toSvgson(root(tree)))))).toEqual(root(tree));
      }),
    );
  });

  it("written by it are read by the strict reader as they were, but for white space in attributes", () => {
    fc.assert(
      fc.property(trees, (tree) => {
        const normal = (value: string) => value.replaceAll(/[\t\n]/g, " ");
        const flat = (one: SvgElement): SvgElement =>
          element(
            one.name,
            Object.fromEntries(Object.entries(one.attributes).map(([name, value]) => [name, normal(value)])),
            one.children.map((child) => (child.type === "element" ? flat(child) : child)),
          );
        expect(parseTree(stringify(toSvgson(root(tree))))).toEqual(flat(root(tree)));
      }),
    );
  });

  it("have their entities decoded, which svgson leaves as written", () => {
    const parsed = parseSync(
      `<svg xmlns="${NS}" a="&lt;&#38;&#x41;"><title>R&amp;D<![CDATA[ & <b> ]]></title></svg>`,
    );
    expect(parsed.attributes.a).toBe("&lt;&#38;&#x41;");
    const tree = fromSvgson(parsed);
    expect(tree.attributes.a).toBe("<&A");
    expect(tree.children[0]?.children[0]?.value).toBe("R&D & <b> ");
  });

  it("are refused where they are no elements, too deep, or use entities of their own", () => {
    expect(() => fromSvgson(parseSync(`<svg a="&reed;"/>`))).toThrow("E_DTD");
    expect(() => fromSvgson({ ...toSvgson(element("g")), type: "text" })).toThrow("E_NOT_SVG");
    let deep = toSvgson(element("g"));
    for (let k = 0; k < 300; k++) deep = { ...toSvgson(element("g")), children: [deep] };
    expect(() => fromSvgson(deep)).toThrow("E_DEPTH");
  });
});
