import { describe, expect, it } from "vitest";
import { rasterise, rasterisePage } from "./index.js";

/** As a page is written. */
const page = (body: string, size = 'width="60mm" height="40.5mm" viewBox="0 0 60 40.5"'): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" ${size}>${body}</svg>`;
const LEAVES =
  '<title>Leaves</title><defs><path id="leaf" d="M4 4C20 6 30 20 28 36C10 34 4 20 4 4Z"/></defs>' +
  '<rect width="60" height="40.5" fill="#ffffff"/><use href="#leaf" fill="#3c6e5a"/><use href="#leaf" x="28" fill="#c8553d"/>';

describe("rasterisePage", () => {
  it("draws what a strict reading would let through, to the pixel", async () => {
    for (const dpi of [40, 101, { x: 72, y: 90 }]) {
      const strict = await rasterise(page(LEAVES), { dpi });
      const straight = await rasterisePage(page(LEAVES), { dpi });
      expect([straight.width, straight.height, straight.dpi]).toEqual([
        strict.width,
        strict.height,
        strict.dpi,
      ]);
      expect(Buffer.compare(straight.data, strict.data)).toBe(0);
    }
  });

  it.each([
    ["no drawing", "leaves"],
    ["a drawing that begins otherwise", `<?xml version="1.0"?>${page(LEAVES)}`],
    ["a drawing in pixels", page(LEAVES, 'width="60" height="40.5" viewBox="0 0 60 40.5"')],
    ["one whose units are no mm", page(LEAVES, 'width="60mm" height="40.5mm" viewBox="0 0 600 405"')],
    ["one that opens a file", page('<image href="/etc/passwd" width="9" height="9"/>')],
    ["one that does so in other words", page("<image xlink:href = 'file:///x' width='9' height='9'/>")],
  ])("refuses %s", async (_, text) => {
    await expect(rasterisePage(text, { dpi: 40 })).rejects.toThrow(/^E_FORMAT page/);
  });

  it("takes names for names, and refuses a resolution that is none", async () => {
    const named = page(LEAVES.replace("Leaves", 'href="x"'));
    expect((await rasterisePage(named, { dpi: 40 })).width).toBe(94);
    await expect(rasterisePage(page(LEAVES), { dpi: 0 })).rejects.toThrow(/^E_NUMBER/);
  });
});
