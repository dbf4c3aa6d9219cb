import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { colourway } from "../../colour/index.js";
import type { Note } from "../../errors.js";
import { boxOverlap } from "../../geometry/index.js";
import { motif } from "../../motif/index.js";
import { border, halfDrop, inksOf, type Print, pixelGrid, place, straight } from "../../repeat/index.js";
import type { SeamReport } from "../../seam/index.js";
import { PAGE } from "../page/page.js";
import { allWords, wordsOf } from "../page.fixture.js";
import type { SpecSheetOptions } from "../types.js";
import { specSheet } from "./spec-sheet.js";

const REED = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">' +
    '<path d="M3 3H17V8H8V17H3Z" fill="#1b2a41"/><circle cx="14" cy="14" r="3" fill="#c8553d"/></svg>',
  { name: "reed" },
);
const SHORE = border({
  name: "Shore",
  repeat: "32cm",
  width: "140cm",
  ground: "#d7e3e0",
  bands: [
    {
      name: "hem",
      from: "120cm",
      to: "140cm",
      ground: "#7a8b5f",
      motifs: [place(REED, { at: ["8cm", "10cm"], width: "14cm" })],
    },
  ],
});
const REEDS = halfDrop({
  name: "Reeds",
  width: "18cm",
  height: "16cm",
  ground: "#f2ead8",
  motifs: [place(REED, { at: ["9cm", "8cm"], width: "12cm" })],
});
const DUSK = colourway("Dusk", { "#d7e3e0": "#1b2a41", "#1b2a41": "#e8b4a0", "#f2ead8": "#20242c" });

const open: SeamReport = {
  kind: "seam-report",
  ok: false,
  width: 10,
  height: 10,
  dpi: undefined,
  edges: [
    {
      edge: "left-right",
      ok: false,
      kind: "gap",
      worst: 9,
      shift: undefined,
      runs: [],
      share: 0.1,
      mend: "Move it.",
    },
  ],
};

const coverageFor = (print: Print) => [
  ...inksOf(print).map(({ ink }, k) => ({
    ink,
    share: 0.1 + k / 50,
    perRepeat: 448.25 + k,
    perRunningMetre: 1401 + k,
  })),
  { ink: "#00000000", share: 0.05, perRepeat: 22.4, perRunningMetre: 70 },
];

const sheet = (print: Print, more: Partial<SpecSheetOptions> = {}) =>
  specSheet({
    print,
    grid: pixelGrid(print, { dpi: 300, shrinkage: { warp: "3%" } }),
    shrinkage: { warp: "3%" },
    colourways: [colourway("Day", {}), DUSK],
    coverage: coverageFor(print),
    seams: [
      { colourway: "Day", report: { ...open, ok: true, edges: [] } },
      { colourway: "Dusk", report: open },
    ],
    notes: [{ level: "warning", code: "N_INK_MISSING", message: "an ink has no entry", where: "#c8553d" }],
    ...more,
  });

/** Prints of so many inks, in stripes. */
const striped = (count: number) =>
  straight({
    name: "Stripes",
    width: 100,
    height: 100,
    motifs: Array.from({ length: count }, (_, k) => {
      const ink = `#${(0x102030 + k * 0x020305).toString(16).padStart(6, "0")}`;
      const drawn = `<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9"><path d="M0 0H9V9H0Z" fill="${ink}"/></svg>`;
      return place(motif(drawn, { name: `stripe-${k}` }), { at: [50, 50] });
    }),
  });

/** Words that lie on others. */
const clashesOf = (page: string): readonly string[] => {
  const written = wordsOf(page);
  const clashes = written.flatMap((one, k) =>
    written.slice(k + 1).filter(({ box }) => {
      const both = boxOverlap(one.box, box);
      return both !== undefined && both.width * both.height > 1e-6;
    }),
  );
  return clashes.map(({ words }) => words);
};

describe("specSheet", () => {
  it("says what a mill must know of a border, in order", () => {
    const pages = sheet(SHORE);
    expect(pages).toHaveLength(1);
    expect(allWords(pages)).toMatchInlineSnapshot(`
      [
        "Shore",
        "Border, 32 cm repeat, 140 cm cloth",
        "Inks are sRGB; Lab for D50. A strike-off on the cloth decides on colour.",
        "1 / 1",
        "PRINT",
        "Layout",
        "Border",
        "Repeat",
        "32 cm along the cloth",
        "Cloth width",
        "140 cm from selvedge to selvedge",
        "Bands, cm",
        "hem 120–140",
        "Warp",
        "runs left to right, as drawn",
        "Shrinkage",
        "warp 3 %, weft 0 %",
        "Printed size",
        "32.99 × 140 cm",
        "Tile, pixels",
        "3896 × 16535",
        "Resolution",
        "299.968 × 299.992 dpi",
        "Deviation",
        "repeat −35.6 µm (−107.8 a metre), cloth width −36.7 µm",
        "(−26.2 a metre)",
        "INKS OF DAY",
        "L",
        "a",
        "b, D50",
        "covers",
        "cm² repeat",
        "cm² metre",
        "#1b2a41",
        "16.6",
        "−0.4",
        "−16.8",
        "1",
        "10.00 %",
        "448.3",
        "1401",
        "#7a8b5f",
        "55.6",
        "−12.4",
        "21.5",
        "2",
        "12.00 %",
        "449.3",
        "1402",
        "#c8553d",
        "51.4",
        "45.7",
        "37.6",
        "3",
        "14.00 %",
        "450.3",
        "1403",
        "#d7e3e0",
        "89.3",
        "−4.6",
        "0.0",
        "4",
        "16.00 %",
        "451.3",
        "1404",
        "bare cloth",
        "5.00 %",
        "22.4",
        "70",
        "32 cm",
        "140 cm",
        "selvedge",
        "warp",
        "NOTES",
        "#c8553d: an ink has no entry",
        "COLOURWAYS",
        "Day",
        "seams closed",
        "1",
        "#1b2a41",
        "16.6",
        "−0.4",
        "−16.8",
        "2",
        "#7a8b5f",
        "55.6",
        "−12.4",
        "21.5",
        "3",
        "#c8553d",
        "51.4",
        "45.7",
        "37.6",
        "4",
        "#d7e3e0",
        "89.3",
        "−4.6",
        "0.0",
        "Dusk",
        "seam: left-right gap",
        "1",
        "#e8b4a0",
        "77.8",
        "17.4",
        "17.9",
        "2",
        "#7a8b5f",
        "55.6",
        "−12.4",
        "21.5",
        "3",
        "#c8553d",
        "51.4",
        "45.7",
        "37.6",
        "4",
        "#1b2a41",
        "16.6",
        "−0.4",
        "−16.8",
      ]
    `);
  });

  it("says of a half-drop how its tile is made", () => {
    const words = allWords(sheet(REEDS));
    expect(words).toContain("Half-drop, 18 \u00d7 16 cm");
    expect(words).toContain("36 \u00d7 16 cm, repeats by itself");
    expect(words).toContain("36 cm = 2 \u00d7 18");
    expect(words).toContain("runs top to bottom, as drawn");
    expect(words).not.toContain("selvedge");
  });

  it("says of all-over prints what inks cover of the tile, and of no metre, since nobody told how wide the cloth is", () => {
    const words = allWords(sheet(REEDS));
    expect(words).toContain("cm\u00b2 tile");
    expect(words).toContain("448.3");
    expect(words).not.toContain("cm\u00b2 repeat");
    expect(words).not.toContain("cm\u00b2 metre");
    expect(words).not.toContain("1401");
    expect(allWords(sheet(striped(2)))).toContain("cm\u00b2 repeat");
  });

  it.each([
    ["a border", SHORE],
    ["a half-drop", REEDS],
    ["sixteen inks", striped(16)],
    ["seventy-five inks", striped(75)],
  ] as const)("keeps words in the type area and off each other: %s", (_, print) => {
    const colourways = Array.from({ length: 9 }, (_, k) =>
      colourway(`Colourway with a long name, longer than the heading over inks has room for, ${k}`, {}),
    );
    const notes = Array.from(
      { length: 30 },
      (_, k): Note => ({ level: "info", code: "N_X", message: `note ${k} ${"that goes on ".repeat(k)}` }),
    );
    for (const page of sheet(print, { colourways, notes })) {
      const written = wordsOf(page);
      expect(written.length).toBeGreaterThan(3);
      for (const { words, box } of written) {
        const inside =
          box.x > PAGE.left - 0.2 &&
          box.x + box.width < PAGE.right + 0.2 &&
          box.y > PAGE.top - 0.01 &&
          box.y + box.height < PAGE.bottom + 8;
        expect([words, inside]).toEqual([words, true]);
      }
      expect(clashesOf(page)).toEqual([]);
    }
  });

  it("writes a colourway's name as long as the verdict beside it lets it", () => {
    const names = ["Low water, late light", "Low water in first light"];
    const colourways = names.map((name) => colourway(name, {}));
    const seams = names.map((name) => ({ colourway: name, report: { ...open, ok: true, edges: [] } }));
    for (const more of [{ colourways }, { colourways, seams }])
      expect(allWords(sheet(SHORE, more))).toEqual(expect.arrayContaining(names));
    const [long = ""] = [`${"long ".repeat(10)}name`];
    const alone = allWords(sheet(SHORE, { colourways: [colourway(long, {})], seams: [] }));
    expect(alone.find((words) => /^long.*\.\.$/.test(words))?.length).toBeGreaterThan(25);
  });

  it("measures a repeat that is flat or narrow as well", () => {
    for (const [width, height] of [
      [1000, 5],
      [5, 1000],
    ] as const) {
      const print = straight({ name: "Rail", width, height, ground: "#f2ead8", motifs: [] });
      const words = allWords(specSheet({ print }));
      expect(words).toContain("0.5 cm");
      expect(words).toContain("100 cm");
    }
  });

  it("lists every ink of every colourway, and every colourway, whatever their number", () => {
    const ways = Array.from({ length: 12 }, (_, k) =>
      colourway(`Way ${k + 1}`, { "#1b2a41": `#${(0x300000 + k * 0x0a0b0c).toString(16)}` }),
    );
    const words = allWords(sheet(SHORE, { colourways: ways }));
    for (const { name, inks } of ways) {
      expect(words).toContain(name);
      for (const { ink } of inksOf(SHORE)) expect(words).toContain(inks[ink] ?? ink);
    }
    const many = striped(75);
    const table = allWords(sheet(many, { colourways: [] }));
    for (const { ink } of inksOf(many)) expect(table).toContain(ink);
    expect(table).toContain("and 17 more");
  });

  it("says how inks are drawn where it shows others, since films, tables and notes call them so", () => {
    const inks = ["#d7e3e0", "#7a8b5f", "#1b2a41", "#c8553d"];
    const way = colourway("Dusk", { "#d7e3e0": "#1b2a41", "#1b2a41": "#e8b4a0", "#c8553d": "#d08a3e" });
    const [page = ""] = sheet(SHORE, { colourways: [way] });
    const written = wordsOf(page);
    const head = written.find(({ words }) => words === "as drawn");
    const column = written.filter(
      ({ words, box }) => inks.includes(words) && Math.abs(box.x - (head?.box.x ?? 0)) < 1,
    );
    const order = (ink: string) => inksOf(SHORE).findIndex((one) => one.ink === ink);
    expect(column.map(({ words }) => order(words))).toEqual([0, 1, 2, 3]);
    expect(clashesOf(page)).toEqual([]);
    // Shown as it is drawn, it says so once.
    const plain = allWords(sheet(SHORE, { colourways: [colourway("Day", {})] }));
    expect(plain).not.toContain("as drawn");
  });

  it("loses no note", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 60 }), { maxLength: 60 }), (lengths) => {
        const notes = lengths.map(
          (length, k): Note => ({
            level: "info",
            code: "N_X",
            message: `${k}: ${`word${k} `.repeat(length)}`,
          }),
        );
        const words = allWords(sheet(SHORE, { notes })).join(" ");
        for (const [k, length] of lengths.entries()) {
          const told = words.match(new RegExp(`word${k}(?!\\d)`, "g"))?.length ?? 0;
          expect(told).toBe(length);
        }
      }),
      { numRuns: 6 },
    );
  });

  it("has as many pages, whatever drawing finds, and loses no finding that it does not count", () => {
    const note = fc.record({
      level: fc.constantFrom("info", "warning"),
      length: fc.integer({ min: 1, max: 50 }),
    });
    const some = (maxLength: number) => fc.array(note, { maxLength });
    const prints = fc.constantFrom(SHORE, REEDS, striped(44));
    const ways = fc.integer({ min: 1, max: 9 });
    fc.assert(
      fc.property(prints, ways, some(70), some(70), fc.boolean(), (print, count, told, found, isBare) => {
        const write = (list: typeof told, word: string) =>
          list.map(
            ({ level, length }, k): Note => ({
              level,
              code: "N_X",
              message: `${word}${k} ${"and on ".repeat(length)}`,
            }),
          );
        const notes = write(told, "note");
        const findings = write(found, "finding");
        const colourways = Array.from({ length: count }, (_, k) => colourway(`Way ${k}`, {}));
        const coverage = coverageFor(print).map((one) => ({
          ...one,
          share: isBare || one.ink !== "#00000000" ? one.share : 0,
        }));
        const planned = sheet(print, { colourways, notes, seams: [] });
        const pages = sheet(print, { colourways, notes, findings, coverage });
        expect(pages.length).toBe(planned.length);
        const words = allWords(pages).join(" ");
        const has = ({ message }: Note) => words.includes(`${message.split(" ")[0]} `);
        const lost = [...notes, ...findings].filter((one) => !has(one));
        const said = Number(/(\d+) more notes? ha(?:s|ve) no room here\./.exec(words)?.[1] ?? 0);
        expect(said).toBe(lost.length);
        // No warning is lost for the sake of something less.
        const last = (level: Note["level"]) => [...notes, ...findings].filter((one) => one.level === level);
        if (lost.some(({ level }) => level === "warning")) expect(last("info").some(has)).toBe(false);
      }),
      { numRuns: 12 },
    );
  });

  it("lets the picture of an all-over print give way to findings that would have no room", () => {
    const findings = Array.from(
      { length: 6 },
      (_, k): Note => ({
        level: "info",
        code: "N_X",
        message: `finding ${k} ${"and what is with it ".repeat(9)}`,
      }),
    );
    const colourways = ["Dawn", "Noon", "Dusk"].map((name) => colourway(name, {}));
    const draw = (found: number) => sheet(striped(8), { colourways, findings: findings.slice(0, found) });
    const cardsOf = (pages: readonly string[]) =>
      pages.flatMap(wordsOf).find(({ words }) => words === "COLOURWAYS")?.box.y ?? Number.NaN;
    const [planned, beside, behind, full] = [draw(0), draw(3), draw(4), draw(6)];
    expect([planned, beside, behind, full].map(({ length }) => length)).toEqual([1, 1, 1, 1]);
    expect(cardsOf(beside)).toBe(cardsOf(planned));
    expect(cardsOf(behind)).toBeLessThan(cardsOf(planned) - 1);
    expect(allWords([...beside, ...behind]).join(" ")).not.toContain("no room here");
    expect(behind.flatMap(clashesOf)).toEqual([]);
    expect(allWords(full).join(" ")).toContain("2 more notes have no room here");
  });

  it("leaves out what is not known, and what the facts say already", () => {
    const bare = allWords(specSheet({ print: SHORE }));
    expect(bare).toContain("As drawn");
    expect(bare).toContain("INKS");
    expect(bare).not.toContain("covers");
    expect(bare).not.toContain("Tile, pixels");
    expect(bare.join(" ")).not.toMatch(/seam|NOTES/);
    const notes: readonly Note[] = [{ level: "info", code: "N_PIXELS", message: "252 are drawn" }];
    expect(allWords(sheet(SHORE, { notes }))).not.toContain("252 are drawn");
    expect(allWords(specSheet({ print: SHORE, notes }))).toContain("252 are drawn");
  });

  it("is a drawing that the strict reader takes whole, without live text", () => {
    for (const print of [SHORE, REEDS])
      for (const page of sheet(print)) {
        expect(page).not.toContain("<text");
        const read = motif(page, { name: "sheet" });
        expect(read.removed).toEqual([]);
        expect([read.width, read.height]).toEqual([210, 297]);
      }
  });

  it("is the same text from the same input", () => {
    expect(sheet(REEDS)).toEqual(sheet(REEDS));
  });
});
