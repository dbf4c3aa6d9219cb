import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { childElements, element, type SvgElement, serialise } from "../../svg/index.js";
import { shareShapes } from "./share-shapes.js";

/** The drawing with every reference to a shared outline followed. */
function follow({ defs, body }: ReturnType<typeof shareShapes>): readonly SvgElement[] {
  const outlines = new Map(
    defs.flatMap(({ attributes: { id = "", d = "" } }) => (id.startsWith("s-") ? [[id, d] as const] : [])),
  );
  const walk = (one: SvgElement): SvgElement => {
    const { href = "", ...rest } = one.attributes;
    const d = outlines.get(href.slice(1));
    return d === undefined
      ? { ...one, children: childElements(one).map(walk) }
      : element("path", { d, ...rest });
  };
  return [...defs.filter(({ attributes: { id = "" } }) => !id.startsWith("s-")), ...body].map(walk);
}

const outline = (k: number): string => `M${k} 0${"L1 1".repeat(20)}`;
const path = fc
  .record({
    d: fc.oneof(fc.integer({ min: 0, max: 4 }).map(outline), fc.constantFrom("M0 0H1", "")),
    fill: fc.constantFrom("#102030", "none", "url(#g)"),
    more: fc.constantFrom<Record<string, string>>(
      {},
      { transform: "scale(2)" },
      { pathLength: "1" },
      { id: "own" },
    ),
  })
  .map(({ d, fill, more }) => element("path", { d, fill, ...more }));
const { tree } = fc.letrec<{ tree: SvgElement }>((tie) => ({
  tree: fc.oneof(
    { maxDepth: 3 },
    path,
    fc
      .tuple(fc.constantFrom("g", "mask", "clipPath"), fc.array(tie("tree"), { maxLength: 5 }))
      .map(([name, children]) => element(name, {}, children)),
  ),
}));

describe("shareShapes", () => {
  it("draws the same, and no long outline twice outside of clips", () => {
    fc.assert(
      fc.property(fc.array(tree, { maxLength: 6 }), fc.array(tree, { maxLength: 6 }), (defs, body) => {
        const shared = shareShapes({ defs, body }, "s-");
        const whole = (all: readonly SvgElement[]) => serialise(element("g", {}, all));
        expect(follow(shared).map((one) => sorted(one))).toEqual(
          [...defs, ...body].map((one) => sorted(one)),
        );
        const bare = whole([...shared.defs, ...shared.body])
          .replace(/<clipPath>.*?<\/clipPath>/g, "")
          .replace(/<path[^>]*pathLength[^>]*>/g, "");
        if (!bare.includes("clipPath"))
          for (let k = 0; k < 5; k += 1) expect(bare.split(outline(k)).length).toBeLessThan(3);
      }),
      { numRuns: 60 },
    );
  });
});

/** Attributes in one order, to be compared. */
function sorted(one: SvgElement): unknown {
  const attributes = Object.fromEntries(Object.entries(one.attributes).sort());
  return { name: one.name, attributes, children: childElements(one).map(sorted) };
}
