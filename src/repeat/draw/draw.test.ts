import { describe, expect, it } from "vitest";
import { motif, recolourMotif } from "../../motif/index.js";
import { straight } from "../build/all-over.js";
import { place } from "../build/place.js";
import { field } from "./field.js";

const text =
  '<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm" viewBox="0 0 10 10">' +
  '<linearGradient id="a"><stop stop-color="teal"/><stop offset="1" stop-color="navy"/></linearGradient><rect width="9" height="9" fill="url(#a)"/></svg>';
const draw = (...motifs: readonly ReturnType<typeof motif>[]): string =>
  field(
    straight({
      name: "Pair",
      width: 40,
      height: 40,
      motifs: motifs.map((one, k) => place(one, { at: [5 + 20 * k, 20] })),
    }),
    { x: 0, y: 0, width: 40, height: 40 },
  );

describe("one drawing in two colourings in one print", () => {
  const seed = motif(text, { name: "seed" });
  const dusk = recolourMotif(seed, { "#008080": "#c8553d" });

  it("stands there twice, each with its own ids and references", () => {
    const svg = draw(seed, dusk);
    const ids = [...svg.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id ?? "");
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids).toHaveLength(4);
    const referred = [...svg.matchAll(/(?:href="|url\()#([^")]+)/g)].map(([, id]) => id ?? "");
    expect(new Set(referred)).toEqual(new Set(ids));
    expect(svg).toContain("#008080");
    expect(svg).toContain("#c8553d");
  });

  it("stands there once where both are alike, made twice or not", () => {
    expect(draw(seed, seed).match(/<linearGradient/g)).toHaveLength(1);
    expect(draw(seed, motif(text, { name: "seed" })).match(/<linearGradient/g)).toHaveLength(1);
    expect(draw(seed, dusk, motif(text, { name: "seed" }), dusk).match(/<linearGradient/g)).toHaveLength(2);
  });

  it("ends soon for thousands of colourings", () => {
    const many = Array.from({ length: 9000 }, (_, k) =>
      recolourMotif(seed, { "#008080": `#${(0x100000 + k).toString(16)}` }),
    );
    const start = performance.now();
    draw(...many);
    // Each held against every other took more than a minute.
    expect(performance.now() - start).toBeLessThan(15_000);
  });
});
