import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { colourway } from "./colourway.js";
import { readColourways, writeColourways } from "./colourway-table.js";
import { readColour } from "./read.js";
import type { Colourway } from "./types.js";

const LOW_TIDE = colourway("Low Tide", { "#f2ead8": "#dfe6e0", "#1b2a41": "#33474f" });
const NIGHTJAR = colourway("Nightjar", { "#f2ead8": "#1d1a26", "#1b2a41": "#c9b458" });

const ink = fc.integer({ min: 0, max: 0xffffff }).map((value) => `#${value.toString(16).padStart(6, "0")}`);
const name = fc.oneof(
  fc.string({ minLength: 1, maxLength: 12, unit: "grapheme" }),
  fc.string({
    minLength: 1,
    maxLength: 6,
    unit: fc.constantFrom(",", ";", '"', "a", " ", "{", "[", "=", "ink"),
  }),
  fc.constantFrom("name", "NAME", "ink", "__proto__", "1", "constructor"),
);
const tables = fc
  .uniqueArray(fc.record({ name, inks: fc.dictionary(ink, ink, { maxKeys: 8 }) }), {
    minLength: 1,
    maxLength: 6,
    selector: (one) => one.name.normalize("NFC").trim(),
  })
  .filter((list) =>
    list.every((one) => one.name.normalize("NFC").trim() !== "" && !/\p{Cc}/u.test(one.name.trim())),
  )
  .map((list): readonly Colourway[] => list.map((one) => colourway(one.name, one.inks)));

/** Whether a cell above a header can be nothing but a title. */
const isTitle = (text: string): boolean => {
  if (/^(?:ink|\s*sep=.*)$/is.test(text)) return false;
  try {
    readColour(text);
    return false;
  } catch {
    return true;
  }
};

describe("readColourways from CSV", () => {
  it.each([
    ["commas", "ink,Low Tide,Nightjar\n#f2ead8,#dfe6e0,#1d1a26\n#1b2a41,#33474f,#c9b458\n"],
    ["semicolons", "Ink;Low Tide;Nightjar\n#f2ead8;#dfe6e0;#1d1a26\n#1b2a41;#33474f;#c9b458"],
    ["tabs", "INK\tLow Tide\tNightjar\r#f2ead8\t#dfe6e0\t#1d1a26\r#1b2a41\t#33474f\t#c9b458\r"],
    [
      "a byte-order mark and CRLF",
      "\uFEFFink,Low Tide,Nightjar\r\n#f2ead8,#dfe6e0,#1d1a26\r\n#1b2a41,#33474f,#c9b458\r\n",
    ],
    [
      "quotes, blanks and other colours",
      '"ink" , "Low Tide" , Nightjar\n F2EAD8 '.replace("F2EAD8", "#F2EAD8") +
        ',"rgb(223, 230, 224)",#1d1a26\n"#1b2a41","#33474f" ,"#c9b458"',
    ],
    [
      "quoted tabs",
      '"ink"\t"Low Tide"\t"Nightjar"\n"#f2ead8"\t"#dfe6e0"\t"#1d1a26"\n"#1b2a41"\t"#33474f"\t"#c9b458"\n',
    ],
    [
      "blank lines and trailing blanks",
      "\n\nink,Low Tide,Nightjar,,\n\n#f2ead8,#dfe6e0,#1d1a26,,\n , ,\n#1b2a41,#33474f,#c9b458\n\n\n",
    ],
    ["labels", "ink,Name,Low Tide,Nightjar\n#f2ead8,sand,#dfe6e0,#1d1a26\n#1b2a41,,#33474f,#c9b458"],
    [
      "a line that names the separator",
      "\uFEFFsep=;\r\nink;Low Tide;Nightjar\r\n#f2ead8;#dfe6e0;#1d1a26\r\n#1b2a41;#33474f;#c9b458\r\n",
    ],
    [
      "a separator of one's own, on a line that was saved as cells",
      '"SEP=|"||\nink|Low Tide|Nightjar\n#f2ead8|"#dfe6e0"|#1d1a26\n#1b2a41|#33474f|#c9b458\n',
    ],
    [
      "a hyphen and a bracket as separators",
      "sep=]\nink]Low Tide]Nightjar\n#f2ead8]#dfe6e0]#1d1a26\n#1b2a41]#33474f]#c9b458\n",
    ],
    [
      "titles and empty rows above the header",
      ';;\n"Saltmarsh, ""spring""\nink,Dusk";;\n ; ;\n;2027, by Ink & Reed\n\nink;Low Tide;Nightjar\n' +
        "#f2ead8;#dfe6e0;#1d1a26\n#1b2a41;#33474f;#c9b458\n",
    ],
  ])("takes %s", (_, text) => {
    expect(readColourways(text)).toEqual([LOW_TIDE, NIGHTJAR]);
  });

  it("makes no entry of an empty cell, nor of a short row", () => {
    const [lowTide, nightjar] = readColourways(
      "ink,Low Tide,Nightjar\n#f2ead8,,#1d1a26\n#1b2a41,#33474f\n#aaaaaa\n",
    );
    expect(lowTide?.inks).toEqual({ "#1b2a41": "#33474f" });
    expect(nightjar?.inks).toEqual({ "#f2ead8": "#1d1a26" });
  });

  it("reads a name that quotes quotation marks, separators and the word name", () => {
    const read = readColourways('ink,"Dusk, ""late""; 2",name\n#fff,#000,#111\n');
    expect(read.map((one) => one.name)).toEqual(['Dusk, "late"; 2', "name"]);
  });

  it.each([
    ["", /^E_COLOURWAY 1:1: a colourway table has no header/],
    ["colour,Dusk\n#fff,#000", /^E_COLOURWAY 1:1: a colourway table has no header/],
    ["ink Dusk\n", /^E_COLOURWAY 1:1: a colourway table has no header/],
    ["ink,name\n#fff,white", /^E_COLOURWAY 1:1: a colourway table has no colourways/],
    ["ink,Dusk,Dusk \n", /^E_COLOURWAY 1:10: two colourways have one name \(met "Dusk"\)/],
    [
      "ink,Dusk\n#fff,#000,#111",
      /^E_COLOURWAY 2:11: a cell of a colourway table stands under no colourway \(met "#111"\)/,
    ],
    ["ink,Dusk\n#fff,rgb(1,2,3)", /^E_COLOURWAY 2:12/],
    ["ink,,Dusk\n#fff,#000,#111", /^E_COLOURWAY 2:6/],
    ["ink,Dusk\n,#000", /^E_COLOURWAY 2:1: a row of a colourway table names no ink/],
    ["ink,Dusk\n\n#fff,#0000", /^E_COLOURWAY 3:6: .*not opaque/],
    ["ink,Dusk\n#fff,blak", /^E_COLOUR 2:6: a colour cannot be read \(met "blak"\)/],
    ["ink,Dusk\nwhit,#000", /^E_COLOUR 2:1: .*met "whit"/],
    ["ink,Dusk\nwhit,", /^E_COLOUR 2:1: .*met "whit"/],
    ["ink,Dusk\n#fff,#000\nwhite,#111", /^E_COLOURWAY 3:7: one ink of colourway "Dusk" is to become two/],
    ['ink,"Dusk\n#fff,#000', /^E_COLOURWAY 1:5: a quotation mark is not closed/],
    ['ink,Dusk\n#fff,#0"00', /^E_COLOURWAY 2:8: a quotation mark stands inside a cell/],
    ['ink,Dusk\n#fff,"#000"1', /^E_COLOURWAY 2:12: a quotation mark stands inside a cell/],
    ['ink,"a\nb"\n', /^E_COLOURWAY 1:5: a colourway has no usable name/],
    ['ink,Dusk\n"#fff\n",blak', /^E_COLOUR 3:3/],
    ["sep=\nink,Dusk\n#fff,#000", /^E_COLOURWAY 1:5: .*separator.* \(met ""\)/],
    ["sep=a\ninkaDusk", /^E_COLOURWAY 1:5: .*separator.* \(met "a"\)/],
    ['\n "sep=#"\nink', /^E_COLOURWAY 2:7: .*separator.* \(met "#\\""\)/],
    ["sep=;,\nink;Dusk", /^E_COLOURWAY 1:5: .*separator.* \(met ";,"\)/],
    ["sep=;\n\nink,Dusk\n#fff,#000", /^E_COLOURWAY 3:1: a colourway table has no header \(met "ink,Dusk"\)/],
    ["sep=;\nink;Dusk\n#fff;blak", /^E_COLOUR 3:6: a colour cannot be read/],
    ["sep=;\n", /^E_COLOURWAY 1:1: a colourway table has no header/],
    [
      "Spring, 2027\nink,Dusk\n#fff,#000",
      /^E_COLOURWAY 1:9: what stands above the header .* is no title \(met "2027"\)/,
    ],
    [
      "\n#fff,#000\nink,Dusk\n",
      /^E_COLOURWAY 2:6: what stands above the header .* is no title \(met "#000"\)/,
    ],
    ["Saltmarsh\n,#fff\nink,Dusk", /^E_COLOURWAY 2:2: what stands above the header .* is no title/],
    ["Ink\nink,Dusk\n#fff,#000", /^E_COLOURWAY 1:1: a colourway table has no colourways/],
    ["ink; notes\nink,Dusk\n#fff,#000", /^E_COLOUR 2:1: a colour cannot be read \(met "ink,Dusk"\)/],
    ["Saltmarsh\nink,Dusk\n#fff,#000\nDawn\nink,Dawn", /^E_COLOUR 4:1: .*met "Dawn"/],
    ['5" repeat\nink,Dusk\n#fff,#000', /^E_COLOURWAY 1:2: a quotation mark stands inside a cell/],
    ['"Saltmarsh\nink,Dusk\n', /^E_COLOURWAY 1:1: a quotation mark is not closed/],
    ["x".repeat(1_000_001), /^E_COLOURWAY: a colourway table is too long/],
  ])("refuses %j with its place", (text, message) => {
    expect(() => readColourways(text)).toThrow(message);
  });

  it("reads the same whatever is put above the header", () => {
    const separators = fc.constantFrom(",", ";", "\t");
    const quote = (text: string) => `"${text.replaceAll('"', '""')}"`;
    const title = fc.oneof(
      fc.string({ minLength: 1, maxLength: 20, unit: "grapheme" }),
      fc.string({ minLength: 1, unit: fc.constantFrom(",", ";", "\t", '"', "\n", "ink", "Dusk", "=", " ") }),
    );
    const additions = fc.array(
      fc.oneof(
        fc.record({ before: fc.nat(3), text: fc.constantFrom("", "  "), after: fc.nat(3) }),
        fc.record({ before: fc.nat(3), text: title.filter(isTitle).map(quote), after: fc.nat(3) }),
      ),
      { maxLength: 5 },
    );
    const ends = fc.constantFrom("\n", "\r\n", "\r");
    fc.assert(
      fc.property(
        tables,
        separators,
        fc.boolean(),
        additions,
        ends,
        (colourways, separator, told, rows, end) => {
          const inks = [...new Set(colourways.flatMap((one) => Object.keys(one.inks)))];
          const table = [
            ["ink", "name", ...colourways.map((one) => one.name)],
            ...inks.map((each) => [each, "", ...colourways.map((one) => one.inks[each] ?? "")]),
          ].map((cells) => cells.map(quote).join(separator));
          const above = rows.map(
            ({ before, text, after }) => separator.repeat(before) + text + separator.repeat(after),
          );
          const lines = [...(told ? [`sep=${separator}`] : []), ...above, ...table];
          expect(readColourways(lines.map((line) => line + end).join(""))).toEqual(colourways);
        },
      ),
      { numRuns: 300 },
    );
  });

  it("reads a table of a hundred thousand columns in a moment", () => {
    const names = Array.from({ length: 100_000 }, (_, k) => k.toString(36));
    const start = performance.now();
    expect(readColourways(`ink,${names.join(",")}\n#fff,#000`)).toHaveLength(names.length);
    expect(performance.now() - start).toBeLessThan(10_000);
  });

  it("names the table in its errors", () => {
    expect(() => readColourways("ink,Dusk\n#fff,blak", { name: "saltmarsh.csv" })).toThrow(
      /^E_COLOUR saltmarsh.csv:2:6: a colour cannot be read/,
    );
  });
});

describe("readColourways from JSON", () => {
  it.each([
    ["an object", { "Low Tide": LOW_TIDE.inks, Nightjar: NIGHTJAR.inks }],
    ["a list", [LOW_TIDE, NIGHTJAR].map(({ name: called, inks }) => ({ name: called, inks }))],
    ["what colourway() makes", [LOW_TIDE, NIGHTJAR]],
  ])("takes %s", (_, data) => {
    expect(readColourways(JSON.stringify(data))).toEqual([LOW_TIDE, NIGHTJAR]);
    expect(readColourways(`\uFEFF ${JSON.stringify(data, null, "\t").replaceAll("\n", "\r\n")}\n`)).toEqual([
      LOW_TIDE,
      NIGHTJAR,
    ]);
  });

  it.each([
    ["{}", /^E_COLOURWAY 1:1: a colourway table has no colourways/],
    ["[]", /^E_COLOURWAY 1:1: a colourway table has no colourways/],
    ['{"Dusk":{"#fff":"#000"}', /^E_COLOURWAY 1:24: a JSON text ends too early/],
    [
      '{"Dusk":{"#fff":"#000"}}}',
      /^E_COLOURWAY 1:25: a JSON text cannot be read \(met "}"\); accepted: the end/,
    ],
    ['{\n "Dusk": {"#fff" "#000"}}', /^E_COLOURWAY 2:18: .*accepted: :/],
    ['{"Dusk":{"#fff":"#000",}}', /^E_COLOURWAY 1:24/],
    ['{"Dusk":{"#fff":12}}', /^E_COLOURWAY 1:17: a JSON text cannot be read \(met "12}}"\)/],
    ["{'Dusk':{}}", /^E_COLOURWAY 1:2/],
    ['{"Dusk":"#000"}', /^E_COLOURWAY 1:9: an object is needed, not a text/],
    ['{"Dusk":{"#fff":["#000"]}}', /^E_COLOURWAY 1:17: an ink is to become something that is no text/],
    ['{"Dusk":{"#fff":"blak"}}', /^E_COLOUR 1:17/],
    ['{"Dusk":{"#fff":"#000","white":"#111"}}', /^E_COLOURWAY 1:32: one ink/],
    ['{"Dusk":{},"Dusk":{}}', /^E_COLOURWAY 1:12: two colourways have one name/],
    ['{"":{}}', /^E_COLOURWAY 1:2: a colourway has no usable name/],
    ['{"Dusk\\q":{}}', /^E_COLOURWAY 1:2: a text has an escape/],
    ['[{"name":"Dusk"}]', /^E_COLOURWAY 1:2: a colourway has no "inks"/],
    ['[{"name":"Dusk","inks":{},"name":"Dawn"}]', /^E_COLOURWAY 1:27: a colourway has two of "name"/],
    [
      '[{"name":"Dusk","ink":{}}]',
      /^E_COLOURWAY 1:17: a colourway has an entry that is not known \(met "ink"\)/,
    ],
    ['[{"name":{},"inks":{}}]', /^E_COLOURWAY 1:10: a colourway's name is no text/],
    [`${"[".repeat(100_000)}`, /^E_COLOURWAY 1:9: .*at most 8 levels/],
  ])("refuses %j with its place", (text, message) => {
    expect(() => readColourways(text)).toThrow(message);
  });
});

describe("writeColourways", () => {
  it("writes a table with every ink once, and nothing where there is no entry", () => {
    const dusk = colourway('Dusk, "late"', { "#1b2a41": "#000000", "#abcdef": "#fedcba" });
    expect(writeColourways([LOW_TIDE, dusk], "csv")).toBe(
      'ink,Low Tide,"Dusk, ""late"""\r\n#f2ead8,#dfe6e0,\r\n#1b2a41,#33474f,#000000\r\n#abcdef,,#fedcba\r\n',
    );
  });

  it("is read back to the same data, in both formats", () => {
    fc.assert(
      fc.property(tables, fc.constantFrom("csv" as const, "json" as const), (colourways, format) => {
        expect(readColourways(writeColourways(colourways, format))).toEqual(colourways);
      }),
      { numRuns: 300 },
    );
  });

  it("reads any text as a table or refuses it by our own error", () => {
    const pieces = fc.constantFrom(
      "ink",
      ",",
      ";",
      "\t",
      '"',
      "\n",
      "\r\n",
      "#fff",
      "{",
      "}",
      "[",
      "]",
      ":",
      "Dusk",
      '"Dusk"',
      "sep=",
      "|",
    );
    fc.assert(
      fc.property(fc.array(pieces, { maxLength: 24 }), (parts) => {
        try {
          expect(readColourways(`ink,${parts.join("")}`).length).toBeGreaterThan(0);
          readColourways(parts.join(""));
        } catch (error) {
          expect(String(error)).toMatch(/E_COLOUR/);
        }
      }),
      { numRuns: 500 },
    );
  });

  it("refuses two colourways of one name", () => {
    expect(() => writeColourways([LOW_TIDE, LOW_TIDE], "json")).toThrow(
      /^E_COLOURWAY: two colourways have one name/,
    );
  });
});
