import { describe, expect, it } from "vitest";
import { scopeIds, scopeName } from "./scope.js";
import { parseTree } from "./xml/parse.js";
import { serialise } from "./xml/serialise.js";

const scoped = (inner: string): string => {
  const root = parseTree(
    `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink">${inner}</svg>`,
  );
  const [changed] = scopeIds([root], "p-");
  return changed === undefined ? "" : serialise(changed).replace(/^<svg[^>]*>|<\/svg>$/g, "");
};

describe("scopeIds", () => {
  it.each([
    ['<g id="a"/>', '<g id="p-a"/>'],
    ['<use href="#a"/>', '<use href="#p-a"/>'],
    ['<use xlink:href="#a"/>', '<use xlink:href="#p-a"/>'],
    ['<g fill="url(#a)" mask=\'url("#b")\'/>', '<g fill="url(#p-a)" mask="url(&quot;#p-b&quot;)"/>'],
    ["<g style=\"fill:url(#a);stroke:url( '#b' )\"/>", "<g style=\"fill:url(#p-a);stroke:url('#p-b' )\"/>"],
    ['<g fill="#abc" d="M0 0"/>', '<g fill="#abc" d="M0 0"/>'],
    ['<a href="http://example.org/#a"/>', '<a href="http://example.org/#a"/>'],
    ["<style>#a .b{fill:url(#c);color:#abc}</style>", "<style>#p-a .b{fill:url(#p-c);color:#abc}</style>"],
  ])("turns %s into %s", (inner, expected) => {
    expect(scoped(inner)).toBe(expected);
  });
});

describe("scopeName", () => {
  it("is the same for the same two, and different for any other", () => {
    const names = [
      scopeName("Reed", "<svg/>"),
      scopeName("Reed", "<svg />"),
      scopeName("reed", "<svg/>"),
      scopeName("Reed<", "svg/>"),
      scopeName("", "<svg/>"),
    ];
    expect(new Set(names).size).toBe(names.length);
    expect(scopeName("Reed", "<svg/>")).toBe(names[0]);
  });

  it("is an id in every document", () => {
    for (const name of ["Reed & héron.svg", "貝", "12 crabs", "", "-", "a".repeat(200)]) {
      expect(scopeName(name, "x")).toMatch(/^[a-z][a-z0-9-]{0,24}-[b-z]{10}$/);
    }
  });

  it("has few collisions among very many drawings", () => {
    const names = new Set(Array.from({ length: 100_000 }, (_, k) => scopeName("reed", `<svg>${k}</svg>`)));
    expect(names.size).toBe(100_000);
  });
});
