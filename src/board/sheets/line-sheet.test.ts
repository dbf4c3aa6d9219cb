import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { colourway } from "../../colour/index.js";
import type { RepetendError } from "../../errors.js";
import { yardage } from "../../garment/index.js";
import { motif } from "../../motif/index.js";
import { brokenIds, faultsOf, garmentOf, picturesOf, SHORE, sizeOf, waysOf } from "../boards.fixture.js";
import { allWords, rootOf, wordsOf } from "../page.fixture.js";
import type { LineSheetOptions, LineStyle } from "../types.js";
import { lineSheet } from "./line-sheet.js";

const GARMENTS = [
  garmentOf("Wrap skirt", 70, 90),
  garmentOf("Smock", 80, 75),
  garmentOf("Belt", 90, 20),
] as const;
const refused = (code: string): RepetendError => expect.objectContaining({ code }) as RepetendError;

const stylesOf = (count: number, facts: number): readonly LineStyle[] =>
  Array.from({ length: count }, (_, k) => ({
    name: `Style ${k + 1}`,
    number: `SM ${k + 1}`,
    dressed: GARMENTS[k % 3] ?? GARMENTS[0],
    facts: Array.from({ length: facts }, (_, at) => ({
      name: `Fact ${at}`,
      value: `value ${at} `.repeat(1 + (at % 5)),
    })),
  }));

describe("lineSheet", () => {
  it("says what a buyer asks of a style, in order", () => {
    const cloth = yardage({
      print: SHORE,
      pieces: [{ name: "skirt", width: "60cm", height: "80cm", count: 2, band: "hem" }],
    });
    const pages = lineSheet({
      styles: [
        {
          name: "Wrap skirt",
          number: "SM 01",
          dressed: GARMENTS[0],
          front: "Dusk",
          cloth: [cloth],
          facts: [
            { name: "Sizes", value: "34 to 44" },
            { name: "Wholesale", value: "86" },
          ],
        },
        { name: "Smock", dressed: GARMENTS[1] },
      ],
      colourways: [colourway("Day", {}), colourway("Dusk", { "#d7e3e0": "#20242c" })],
      prints: [SHORE],
      head: { collection: "Saltmarsh", season: "Summer", date: "7 March", from: "Two at the Sluice" },
    });
    expect(pages).toHaveLength(1);
    expect(sizeOf(pages[0] ?? "")).toEqual({ width: 210, height: 297 });
    expect(allWords(pages)).toMatchInlineSnapshot(`
      [
        "Saltmarsh",
        "Summer, 7 March",
        "Two at the Sluice",
        "The large sketches are at one scale. Inks are sRGB: a strike-off on the cloth decides on colour.",
        "1 / 1",
        "Dusk",
        "Day",
        "Wrap skirt",
        "SM 01",
        "Print",
        "Shore, 32 cm repeat",
        "Cloth need",
        "1.26 m of 140 cm; up to 32 cm",
        "more to match",
        "Sizes",
        "34 to 44",
        "Wholesale",
        "86",
        "Day",
        "Dusk",
        "Smock",
        "Print",
        "Shore, 32 cm repeat",
        "Cloth width",
        "140 cm",
      ]
    `);
  });

  it("shows every style on exactly one page in every colourway, and nothing on anything else", () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.tuple(fc.integer({ min: 1, max: 30 }), fc.integer({ min: 1, max: 3 })),
          fc.tuple(fc.integer({ min: 1, max: 4 }), fc.integer({ min: 1, max: 30 })),
        ),
        fc.integer({ min: 0, max: 9 }),
        fc.integer({ min: 1, max: 12 }),
        fc.constantFrom<NonNullable<LineSheetOptions["page"]>>(
          "A4 portrait",
          "A4 landscape",
          "A3 landscape",
          { width: "14cm", height: "14cm" },
          { width: "14cm", height: "90cm" },
        ),
        ([count, ways], facts, perPage, page) => {
          const styles = stylesOf(count, facts);
          const pages = lineSheet({ styles, colourways: waysOf(ways), prints: [SHORE], page, perPage }).map(
            rootOf,
          );
          const written = allWords(pages);
          for (const { name } of styles) expect(written.filter((words) => words === name)).toEqual([name]);
          for (const one of pages) {
            expect(faultsOf(one)).toEqual([]);
            expect(brokenIds(one)).toEqual([]);
            const cells = wordsOf(one).filter(({ words }) => /^Style \d+$/.test(words)).length;
            expect(cells).toBeGreaterThan(0);
            expect(cells).toBeLessThanOrEqual(perPage);
            expect(picturesOf(one)).toHaveLength(cells * ways);
          }
        },
      ),
      { numRuns: 12 },
    );
  });

  it("shows the front larger than the other colourways, which are as large as each other", () => {
    const [page = ""] = lineSheet({ styles: stylesOf(2, 4), colourways: waysOf(4) });
    const shown = picturesOf(page);
    for (const from of [0, 4]) {
      const [front, ...others] = shown.slice(from, from + 4).map(({ scale }) => scale);
      expect(new Set(others).size).toBe(1);
      expect(others[0]).toBeLessThan((front ?? 0) * 0.51);
    }
    // One scale for both fronts, and it is said.
    const real = (k: number) =>
      (shown[k]?.scale ?? 0) / (GARMENTS[k === 0 ? 0 : 1]?.report.scale.perUnit ?? 1);
    expect(real(0)).toBeCloseTo(real(4), 7);
    expect(allWords([page]).join()).toContain("at one scale");
  });

  it("finds room for many colourways beside a flat garment", () => {
    const page = { width: "14cm", height: "90cm" };
    const pages = lineSheet({ styles: stylesOf(3, 0), colourways: waysOf(30), perPage: 1, page });
    expect(pages).toHaveLength(3);
    for (const one of pages) expect(faultsOf(one)).toEqual([]);
  });

  it("writes the names of colourways as long as there is room beside the next, however small the pictures", () => {
    const styles = stylesOf(12, 2).map((style) => ({ ...style, dressed: GARMENTS[2] }));
    const pages = lineSheet({ styles, colourways: waysOf(3), perPage: 12 });
    const written = allWords(pages);
    expect(written.filter((words) => words === "Way 2")).toHaveLength(12);
    for (const page of pages) expect(faultsOf(page)).toEqual([]);
  });

  it("rounds cloth up to whole centimetres, and nothing by rounding only", () => {
    const say = (length: number, spare: number) => {
      const cloth = [{ length, clothWidth: 1400, spare }];
      return allWords(lineSheet({ styles: stylesOf(1, 0).map((style) => ({ ...style, cloth })) })).join(" ");
    };
    expect(say(960.0000000001, 320.0000000001)).toContain("0.96 m of 140 cm; up to 32 cm more to match");
    expect(say(960.1, 320.1)).toContain("0.97 m of 140 cm; up to 33 cm more to match");
  });

  it("keeps the room of a fact that says nothing", () => {
    const styles = stylesOf(1, 3).map((style) => ({
      ...style,
      facts: [{ name: "Price", value: "" }, ...(style.facts ?? [])],
    }));
    for (const page of lineSheet({ styles })) expect(faultsOf(page)).toEqual([]);
  });

  it("puts fewer styles on a page where facts need the room, and loses none of them", () => {
    const styles = stylesOf(4, 24);
    const pages = lineSheet({ styles, perPage: 4 });
    expect(pages.length).toBeGreaterThan(1);
    const written = allWords(pages);
    for (let k = 0; k < 24; k += 1) expect(written.filter((words) => words === `Fact ${k}`)).toHaveLength(4);
  });

  it("counts the facts of a style that no page has room for", () => {
    const pages = lineSheet({ styles: stylesOf(1, 120) });
    expect(pages).toHaveLength(1);
    expect(faultsOf(pages[0] ?? "")).toEqual([]);
    const written = allWords(pages);
    const told = written.filter((words) => /^Fact \d+$/.test(words)).length;
    expect(told).toBeGreaterThan(10);
    expect(written).toContain(`and ${120 - told} more`);
  });

  it("writes words whatever they are, and keeps them in their room", () => {
    const names = ['<script>alert("1")</script>', "& < > ' \"", "\u6f6e \ud83e\udd80", "L".repeat(200)];
    for (const name of names) {
      const [style] = stylesOf(1, 0);
      const styles =
        style === undefined ? [] : [{ ...style, name, number: name, facts: [{ name, value: name }] }];
      const head = { collection: name, season: name, date: name, from: name };
      for (const page of lineSheet({ styles, head, colourways: names.map((one) => colourway(one, {})) })) {
        expect(faultsOf(page)).toEqual([]);
        expect(motif(page, { name: "sheet" }).removed).toEqual([]);
      }
    }
  });

  it("refuses what cannot be shown", () => {
    expect(() => lineSheet({ styles: [] })).toThrow(refused("E_SIZE"));
    for (const perPage of [0, 1.5, 13, Number.NaN])
      expect(() => lineSheet({ styles: stylesOf(1, 0), perPage })).toThrow(refused("E_NUMBER"));
    const [style] = stylesOf(1, 0).map((one) => ({ ...one, front: "Dawn" }));
    if (style !== undefined)
      expect(() => lineSheet({ styles: [style], colourways: waysOf(2) })).toThrow(refused("E_COLOURWAY"));
  });

  it("is the same text from the same input", () => {
    const draw = () => lineSheet({ styles: stylesOf(3, 2), colourways: waysOf(3) });
    expect(draw()).toEqual(draw());
  });
});
