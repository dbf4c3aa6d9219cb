import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { childElements } from "../painted/elements.js";
import { readDrawing } from "../read-drawing.js";
import type { SvgElement } from "../tree.js";
import { serialise } from "../xml/serialise.js";

const maskOf = (content: string, attributes: string = 'color-interpolation="linearRGB"'): SvgElement => {
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><mask id="m" ${attributes}>${content}</mask><rect width="99" height="99" mask="url(#m)"/></svg>`;
  const [mask] = readDrawing(svg, { scope: "s" }).defs;
  if (mask === undefined) throw new Error("no mask");
  return mask;
};
const insideOf = (mask: SvgElement): string =>
  childElements(mask)
    .map((child) => serialise(child))
    .join("");

const AREA = 'd="M0 0H9V9"';

describe("a mask in linear light", () => {
  it("says the light of its colours, and nothing of its space", () => {
    const mask = maskOf(`<path ${AREA} fill="#808080" stroke="#c86432"/><path ${AREA} fill="white"/>`);
    expect(mask.attributes["color-interpolation"]).toBeUndefined();
    // IEC 61966-2-1: 128 is 0.2159 of full light, so 55 of 255; 200, 100 and 50 are 0.578, 0.127 and 0.032.
    expect(insideOf(mask)).toBe(
      '<path fill="#373737" stroke="#932008" d="M0 0H9V9"/><path fill="#ffffff" d="M0 0H9V9"/>',
    );
  });

  it("is told by a style and by what stands around it too", () => {
    const grey = `<path ${AREA} fill="#808080"/>`;
    expect(insideOf(maskOf(grey, 'style="color-interpolation:linearrgb"'))).toContain("#373737");
    expect(insideOf(maskOf(grey, 'style="color-interpolation:sRGB"'))).toContain("#808080");
    expect(insideOf(maskOf(grey, 'color-interpolation="linearRGB" mask-type="alpha"'))).toContain("#808080");
  });

  it("is read again as it is", () => {
    const mask = maskOf(`<path ${AREA} fill="#808080"/>`);
    const again = readDrawing(
      `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100">${serialise(mask)}<rect width="99" height="99" mask="url(#s-1)"/></svg>`,
      { scope: "s" },
    );
    expect(again.defs).toEqual([mask]);
  });

  it("bends gradients: everywhere within a level of the light of the colour as it was", () => {
    const level = fc.integer({ min: 0, max: 255 });
    fc.assert(
      fc.property(level, level, fc.double({ min: 0, max: 1, noNaN: true }), (from, to, at) => {
        const grey = (value: number) => `rgb(${value} ${value} ${value})`;
        const mask = maskOf(
          `<linearGradient id="g"><stop stop-color="${grey(from)}"/><stop offset="1" stop-color="${grey(to)}"/></linearGradient><path ${AREA} fill="url(#g)"/>`,
        );
        const encoded = (from + (to - from) * at) / 255;
        // IEC 61966-2-1.
        const light = encoded <= 0.04045 ? encoded / 12.92 : ((encoded + 0.055) / 1.055) ** 2.4;
        expect(Math.abs(colourAt(mask, at) - 255 * light)).toBeLessThan(1.5);
      }),
    );
  });

  it.each([
    [
      "a picture",
      '<image width="9" height="9" href="data:image/gif;base64,R0lGODlhAQABAAAAACwAAAAAAQABAAACAkQBADs="/>',
    ],
    ["a blend mode", `<path ${AREA} style="mix-blend-mode:multiply"/>`],
    ["something translucent over something", `<path ${AREA}/><path ${AREA} fill="#fff8"/>`],
    ["a stroke over its own translucent area", `<path ${AREA} fill="#fff8" stroke="red"/>`],
    [
      "a translucent gradient over something",
      `<linearGradient id="g"><stop stop-opacity="0"/><stop offset="1" stop-color="red"/></linearGradient><path ${AREA}/><path ${AREA} fill="url(#g)"/>`,
    ],
  ])("is refused with %s, which no colours say", (_, content) => {
    expect(() => maskOf(content)).toThrow("E_FEATURE");
    expect(insideOf(maskOf(content, ""))).not.toBe("");
  });

  it("may hold one translucent thing", () => {
    expect(insideOf(maskOf(`<path ${AREA} fill="#808080" opacity=".5"/>`))).toContain("#373737");
  });
});

/** The red of the gradient of a mask, in levels. */
function colourAt(mask: SvgElement, at: number): number {
  const gradient = childElements(mask).find((child) => /Gradient$/.test(child.name));
  const stops = (gradient === undefined ? [] : childElements(gradient)).map(({ attributes }) => ({
    offset: Number(attributes.offset),
    red: Number.parseInt(attributes["stop-color"]?.slice(1, 3) ?? "", 16),
  }));
  const next = stops.findIndex((stop) => stop.offset >= at);
  const [before, after] = [stops[Math.max(0, next - 1)], stops[next]];
  if (before === undefined || after === undefined) throw new Error("no stops");
  const width = after.offset - before.offset;
  return before.red + (width === 0 ? 0 : ((at - before.offset) / width) * (after.red - before.red));
}
