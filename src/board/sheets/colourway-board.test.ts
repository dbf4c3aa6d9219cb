import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { colourway } from "../../colour/index.js";
import type { RepetendError } from "../../errors.js";
import { motif } from "../../motif/index.js";
import { inksOf, place, straight } from "../../repeat/index.js";
import {
  brokenIds,
  faultsOf,
  garmentOf,
  picturesOf,
  REEDS,
  SHORE,
  type Shown,
  sizeOf,
  waysOf,
} from "../boards.fixture.js";
import { allWords, rootOf, wordsOf } from "../page.fixture.js";
import type { ColourwayBoardOptions } from "../types.js";
import { colourwayBoard } from "./colourway-board.js";

const SKIRT = garmentOf("Wrap skirt", 70, 90);
const SMOCK = garmentOf("Smock", 80, 75);
const BELT = garmentOf("Belt", 90, 20);
const refused = (code: string): RepetendError => expect.objectContaining({ code }) as RepetendError;

const boards = fc.record({
  count: fc.integer({ min: 1, max: 30 }),
  prints: fc.constantFrom([SHORE], [REEDS], [SHORE, REEDS], [REEDS, SHORE], []),
  garments: fc.constantFrom([], [SKIRT], [SKIRT, SMOCK], [SMOCK, BELT, SKIRT]),
  covered: fc.boolean(),
  page: fc.constantFrom<NonNullable<ColourwayBoardOptions["page"]>>(
    "A3 landscape",
    "A3 portrait",
    "A4 landscape",
    "A4 portrait",
    "A1 landscape",
    { width: "14cm", height: "14cm" },
    { width: "2m", height: "30cm" },
  ),
});
const optionsOf = (drawn: {
  count: number;
  prints: readonly (typeof SHORE | typeof REEDS)[];
  garments: readonly (typeof SKIRT)[];
  covered: boolean;
  page: NonNullable<ColourwayBoardOptions["page"]>;
}): ColourwayBoardOptions => ({
  prints: drawn.prints.map((print) => ({
    print,
    ...(drawn.covered ? { coverage: [{ ink: "#1b2a41", share: 0.042 }] } : {}),
  })),
  colourways: waysOf(drawn.count),
  garments: (drawn.prints.length === 0 ? [SKIRT] : drawn.garments).map((dressed) => ({ dressed })),
  page: drawn.page,
  head: { collection: "Saltmarsh", season: "Summer", date: "7 March", from: "Two at the Sluice" },
});

/** A print of so many inks. */
const rails = (count: number) => {
  const inks = Array.from(
    { length: count },
    (_, k) => `#${(0x102030 + k * 0x020305).toString(16).padStart(6, "0")}`,
  );
  const paths = inks.map((ink, k) => `<path d="M${k} 0H${k + 1}V9H${k}Z" fill="${ink}"/>`).join("");
  const drawn = `<svg xmlns="http://www.w3.org/2000/svg" width="${count}mm" height="9mm" viewBox="0 0 ${count} 9">${paths}</svg>`;
  return straight({ name: "Rails", width: 80, height: 20, motifs: [{ ...placed(drawn) }] });
};

describe("colourwayBoard", () => {
  it("says what a buyer chooses by, in order", () => {
    const pages = colourwayBoard({
      prints: [
        {
          print: SHORE,
          coverage: [
            { ink: "#d7e3e0", share: 0.8523 },
            { ink: "#1b2a41", share: 0.0421 },
          ],
        },
      ],
      colourways: [colourway("Day", {}), colourway("Dusk", { "#d7e3e0": "#20242c" })],
      garments: [{ dressed: SKIRT }],
      head: { collection: "Saltmarsh", season: "Summer" },
    });
    expect(pages).toHaveLength(1);
    expect(sizeOf(pages[0] ?? "")).toEqual({ width: 420, height: 297 });
    expect(allWords(pages)).toMatchInlineSnapshot(`
      [
        "Shore",
        "Border, 32 cm repeat, 140 cm cloth",
        "Saltmarsh",
        "Summer",
        "Cloth 1 : 7.5, garments 1 : 6.5. Inks are sRGB: a strike-off on the cloth decides on colour.",
        "1 / 1",
        "Day",
        "#1b2a41",
        "4.2 %",
        "#7a8b5f",
        "#c8553d",
        "#d7e3e0",
        "85 %",
        "Dusk",
        "#1b2a41",
        "4.2 %",
        "#7a8b5f",
        "#c8553d",
        "#20242c",
        "85 %",
      ]
    `);
  });

  it("shows every colourway on exactly one page, all alike, and nothing on anything else", () => {
    fc.assert(
      fc.property(boards, (drawn) => {
        const options = optionsOf(drawn);
        const pages = colourwayBoard(options).map(rootOf);
        const written = allWords(pages);
        for (const { name } of options.colourways ?? [])
          expect(written.filter((words) => words === name)).toEqual([name]);
        const clothes = options.prints.map((): Shown[] => []);
        for (const page of pages) {
          expect(faultsOf(page)).toEqual([]);
          expect(brokenIds(page)).toEqual([]);
          const shown = picturesOf(page);
          const each = options.prints.length + (options.garments?.length ?? 0);
          const cards = wordsOf(page).filter(({ words }) => /^Way \d+$/.test(words)).length;
          expect(cards).toBeGreaterThan(0);
          expect(shown).toHaveLength(cards * each);
          for (const [k, one] of shown.entries()) if (one.kind === "cloth") clothes[k % each]?.push(one);
        }
        // Of each print one window at one scale, on all pages.
        for (const [first, ...others] of clothes)
          for (const { box, scale, drawing } of others) {
            expect(Math.abs(box.width - (first?.box.width ?? 0))).toBeLessThan(0.002);
            expect(Math.abs(box.height - (first?.box.height ?? 0))).toBeLessThan(0.002);
            expect([scale, drawing]).toEqual([first?.scale, first?.drawing]);
          }
        const scales = new Set(clothes.flatMap(([first]) => first?.scale ?? []));
        expect(scales.size).toBe(options.prints.length === 0 ? 0 : 1);
      }),
      { numRuns: 12 },
    );
  });

  it.each([2, 3, 4, 6, 8, 12])(
    "keeps %i colourways of a border on one page, and does not shrink them needlessly",
    (count) => {
      const pages = colourwayBoard({ prints: [{ print: SHORE }], colourways: waysOf(count) });
      expect(pages).toHaveLength(1);
      const area = picturesOf(pages[0] ?? "").reduce((sum, { box }) => sum + box.width * box.height, 0);
      expect(area / (420 * 297)).toBeGreaterThan(0.2);
    },
  );

  it("shows a border from selvedge to selvedge, at the scale that it says", () => {
    const [page = ""] = colourwayBoard({ prints: [{ print: SHORE }], colourways: waysOf(3) });
    const [first] = picturesOf(page);
    expect(first?.box.height).toBeCloseTo(1400 * (first?.scale ?? 0), 2);
    const said = allWords([page]).find((words) => words.startsWith("Cloth 1 : "));
    expect(1 / Number(/1 : ([\d.]+\d)/.exec(said ?? "")?.[1])).toBeCloseTo(first?.scale ?? 0, 5);
  });

  it("shows a print of a small repeat beside a tall border in more than a line", () => {
    const dots = straight({ name: "Dots", width: 9, height: 9, ground: "#f2ead8", motifs: [] });
    const [page = ""] = colourwayBoard({
      prints: [{ print: SHORE }, { print: dots }],
      colourways: waysOf(3),
    });
    const [border, strip] = picturesOf(page);
    expect(border?.scale).toBe(strip?.scale);
    expect(strip?.box.height).toBeGreaterThan(15);
    expect(border?.box.height).toBeCloseTo(1400 * (border?.scale ?? 0), 2);
    expect(faultsOf(page)).toEqual([]);
  });

  it("keeps true size where there is room for more", () => {
    const tiny = straight({ name: "Dots", width: 8, height: 8, ground: "#f2ead8", motifs: [] });
    const [page = ""] = colourwayBoard({ prints: [{ print: tiny }] });
    expect(picturesOf(page)[0]?.scale).toBe(1);
    expect(allWords([page]).join()).toContain("Cloth true to size.");
    expect(allWords([page])).toContain("As drawn");
  });

  it("paints garments and prints by their own tables where these have the colourway", () => {
    const [page = ""] = colourwayBoard({
      prints: [{ print: SHORE, colourways: [colourway("Dusk", { "#d7e3e0": "#101820" })] }],
      colourways: [colourway("Day", {}), colourway("Dusk", { "#d7e3e0": "#20242c" })],
      garments: [{ dressed: SKIRT, colourways: [colourway("Dusk", { "#8f8a86": "#d9694d" })] }],
    });
    expect(page).toContain("#d9694d");
    expect(page).toContain("#8f8a86");
    expect(page).toContain('fill="#101820"');
  });

  it("says the inks that a print has by its own table, and an ink twice that two prints make two of", () => {
    const own = colourway("Dusk", { "#f2ead8": "#33261e", "#1b2a41": "#e8b4a0" });
    const pages = colourwayBoard({
      prints: [
        { print: SHORE, coverage: [{ ink: "#1b2a41", share: 0.25 }] },
        { print: REEDS, colourways: [own], coverage: [{ ink: "#1b2a41", share: 0.125 }] },
      ],
      colourways: [colourway("Day", {}), colourway("Dusk", { "#1b2a41": "#20242c" })],
    });
    const written = allWords(pages);
    const [day, dusk] = [written.indexOf("Day"), written.indexOf("Dusk")];
    const inks = (from: number, to?: number) =>
      written.slice(from, to).filter((words) => words.startsWith("#"));
    // Of Shore, then of Reeds what is other there.
    expect(inks(day, dusk)).toEqual(["#1b2a41", "#7a8b5f", "#c8553d", "#d7e3e0", "#1b2a41", "#f2ead8"]);
    expect(inks(dusk)).toEqual(["#20242c", "#7a8b5f", "#c8553d", "#d7e3e0", "#e8b4a0", "#33261e"]);
    expect(written).toContain("25 \u00b7 \u2013 %");
    expect(written).toContain("\u2013 \u00b7 13 %");
  });

  it.each([
    ["A3 landscape", 20, [], [0.05, 1]],
    ["A3 landscape", 20, [], []],
    ["A3 landscape", 20, [SKIRT], [0.05]],
    ["A3 landscape", 10, [SKIRT, BELT], [0.125, 0.004]],
    ["A3 portrait", 16, [], [0.05]],
  ] as const)(
    "shows every ink of twelve colourways, smaller where it must: %s, %i inks",
    (page, count, garments, shares) => {
      const print = rails(count);
      const coverage = shares.flatMap((share, k) => ({ ink: inksOf(print)[k]?.ink ?? "", share }));
      const dressed = garments.map((one) => ({ dressed: one }));
      const pages = colourwayBoard({
        prints: [{ print, coverage }],
        colourways: waysOf(12),
        garments: dressed,
        page,
      });
      expect(pages).toHaveLength(1);
      const written = allWords(pages);
      for (const { ink } of inksOf(print)) expect(written.filter((words) => words === ink)).toHaveLength(12);
      for (const share of shares)
        expect(
          written.filter((words) => words === `${Number((share * 100).toFixed(share < 0.1 ? 1 : 0))} %`),
        ).toHaveLength(12);
      expect(written.join(" ")).not.toMatch(/and \d+ more/);
      for (const sheet of pages) expect(faultsOf(sheet)).toEqual([]);
    },
  );

  it("cuts inks that have no room, and says how many", () => {
    const pages = colourwayBoard({
      prints: [{ print: rails(75) }],
      colourways: waysOf(10),
      page: "A4 portrait",
    });
    for (const page of pages) expect(faultsOf(page)).toEqual([]);
    expect(allWords(pages).some((words) => /^and \d+ more$/.test(words))).toBe(true);
  });

  it("writes names whatever they are, and keeps them in their room", () => {
    const names = [
      '<script>alert("1")</script>',
      "& < > ' \"",
      "\u6f6e \ud83e\udd80",
      "L".repeat(200),
      "]]>",
    ];
    const [print] = names.map((name) =>
      straight({ name, width: 90, height: 90, ground: "#f2ead8", motifs: [] }),
    );
    for (const name of names) {
      const pages = colourwayBoard({
        prints: print === undefined ? [] : [{ print: { ...print, name } }, { print: SHORE }],
        colourways: names.map((one) => colourway(one, {})),
        title: name,
        head: { collection: name, season: name, date: name, from: name },
      });
      for (const page of pages) {
        expect(faultsOf(page)).toEqual([]);
        expect(motif(page, { name: "board" }).removed).toEqual([]);
      }
    }
  });

  it("refuses what cannot be shown", () => {
    expect(() => colourwayBoard({ prints: [] })).toThrow(refused("E_SIZE"));
    for (const page of [
      { width: 139, height: 300 },
      { width: 300, height: "6m" },
      "A9 landscape" as "A4 landscape",
    ])
      expect(() => colourwayBoard({ prints: [{ print: SHORE }], page })).toThrow(refused("E_SIZE"));
    expect(() =>
      colourwayBoard({ prints: [{ print: SHORE }], page: { width: "3 ells", height: 300 } }),
    ).toThrow(refused("E_UNIT"));
    expect(() => colourwayBoard({ prints: [{ print: SHORE }], title: "\u0000" })).toThrow(refused("E_XML"));
  });

  it("writes an outline once a page, however many colourways there are, and the same text every time", () => {
    const board = (count: number) =>
      colourwayBoard({ prints: [{ print: SHORE }], colourways: waysOf(count) });
    const [page = ""] = board(9);
    expect(page.split("M1 10C2 6 4 6 5 10").length - 1).toBe(1);
    expect(board(9)).toEqual(board(9));
  });
});

function placed(drawing: string) {
  return place(motif(drawing, { name: "rails" }), { at: [40, 10] });
}
