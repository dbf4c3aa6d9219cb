import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { pathBounds } from "../../geometry/path-bounds.js";
import { readPath } from "../../geometry/read-path.js";
import { CLOSER, LETTERS } from "./letters.js";
import { drawWords, findUndrawn, measureWords, shortenWords, wrapWords } from "./words.js";

const boxOf = (words: string, options: Partial<Parameters<typeof drawWords>[1]> = {}) =>
  pathBounds(
    readPath(drawWords(words, { x: 0, y: 0, capital: 7, ink: "#000000", ...options }).attributes.d ?? ""),
  );

describe("letters", () => {
  it("are there for everything that cards and sheets write themselves, each another", () => {
    const own =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789#-+.,:;%()[]/'\"&\u00d7\u00b7\u00b2\u00b5\u00b0\u00b1\u2013\u2212 ";
    expect([...own].filter((sign) => LETTERS[sign] === undefined)).toEqual([]);
    const strokes = Object.values(LETTERS).map(([, stroke]) => stroke);
    expect(new Set(strokes).size).toBe(strokes.length);
  });

  it("keep to their width and to the lines they stand on", () => {
    for (const [sign, [width, stroke]] of Object.entries(LETTERS)) {
      const box = pathBounds(readPath(stroke));
      if (box === undefined) continue;
      expect([sign, box.x > -0.4, box.x + box.width < width + 0.4]).toEqual([sign, true, true]);
      expect([sign, box.y >= -0.5, box.y + box.height < 9.3]).toEqual([sign, true, true]);
      if (/[A-Z0-9]/.test(sign)) expect(box.y + box.height).toBeGreaterThan(6.9);
    }
  });

  it("stand closer in pairs that gape, never on each other", () => {
    for (const [pair, by] of Object.entries(CLOSER)) {
      expect(pair).toHaveLength(2);
      expect(by).toBeLessThan(1.5);
    }
    expect(measureWords("AV", 7)).toBeLessThan((LETTERS.A?.[0] ?? 0) + 1.5 + (LETTERS.V?.[0] ?? 0));
  });
});

describe("words", () => {
  it("are as long as they are said to be, begin, end or have their middle where they should", () => {
    expect(boxOf("HERON")?.width).toBeCloseTo(measureWords("HERON", 7), 2);
    expect(boxOf("HERON")?.x).toBeCloseTo(0, 3);
    const end = boxOf("HEH", { x: 50, align: "end" });
    expect((end?.x ?? 0) + (end?.width ?? 0)).toBeCloseTo(50, 3);
    const middle = boxOf("HEH", { x: 50, align: "middle" });
    expect((middle?.x ?? 0) + (middle?.width ?? 0) / 2).toBeCloseTo(50, 3);
    expect(boxOf("H", { y: 20, capital: 3.5 })).toMatchObject({ y: 16.5, height: 3.5 });
  });

  it("are cut or broken to fit, and lose nothing when broken", () => {
    fc.assert(
      fc.property(
        fc.string({ maxLength: 60 }),
        fc.double({ min: 12, max: 90, noNaN: true }),
        (words, room) => {
          expect(measureWords(shortenWords(words, room, 2), 2)).toBeLessThanOrEqual(room);
          const lines = wrapWords(words, room, 2);
          for (const line of lines) expect(measureWords(line, 2)).toBeLessThanOrEqual(room);
          expect(lines.join("").replace(/\s/g, "")).toBe(words.replace(/\s/g, ""));
        },
      ),
    );
  });

  it("break a word that is too long between signs, never within one", () => {
    const signs = fc.constantFrom("\u{1d40c}", "\u{1f980}", "e\u0301", "I");
    const word = fc.array(signs, { minLength: 30, maxLength: 60 });
    fc.assert(
      fc.property(word, fc.double({ min: 10, max: 40, noNaN: true }), (all, room) => {
        const lines = wrapWords(all.join(""), room, 2);
        expect(lines.every((line) => !/\p{Cs}|^\p{M}/u.test(line))).toBe(true);
        expect(lines.join("")).toBe(all.join(""));
      }),
    );
  });

  it("are cut and broken in a moment, however many there are", () => {
    const long = "w".repeat(5000);
    expect(wrapWords(long, 60, 2).join("")).toBe(long);
    expect(shortenWords(long, 60, 2)).toMatch(/^w+\.\.$/);
    expect(wrapWords("w ".repeat(5000), 60, 2).join(" ")).toHaveLength(9999);
  }, 3000);

  it("have the marks of European letters, within their lines, and lose no mark", () => {
    const marked =
      "\u00c0\u00c1\u00c2\u00c3\u00c4\u00c5\u00c7\u00c8\u00c9\u00ca\u00cb\u00cc\u00cd\u00ce\u00cf\u00d1\u00d2\u00d3\u00d4\u00d5\u00d6\u00d9\u00da\u00db\u00dc\u00dd" +
      "\u0102\u0104\u0106\u010c\u010e\u0118\u011a\u011e\u0130\u013d\u0143\u0147\u0150\u0158\u015a\u015e\u0160\u0164\u016e\u0170\u0178\u0179\u017b\u017d\u0218\u021a";
    const all = [...marked, ...marked.toLowerCase()].filter((sign) => sign.normalize("NFD").length === 2);
    for (const sign of all) {
      const base = sign.normalize("NFD")[0] ?? "";
      const [drawn, plain] = [boxOf(sign), boxOf(base)];
      expect([sign, drawn === undefined || plain === undefined]).toEqual([sign, false]);
      if (drawn === undefined || plain === undefined) continue;
      expect([sign, JSON.stringify(drawn) === JSON.stringify(plain)]).toEqual([sign, false]);
      // Capitals stand on 7 of 7 units here, at y = 0.
      expect([sign, drawn.y > -10, drawn.y + drawn.height < 2.6]).toEqual([sign, true, true]);
      expect([sign, drawn.width >= plain.width - 0.4]).toEqual([sign, true]);
      const room = measureWords(sign, 7);
      expect([sign, drawn.x > -0.4, drawn.x + drawn.width < room + 0.4]).toEqual([sign, true, true]);
    }
    expect(boxOf("\u00fc")).toEqual(boxOf("u\u0308"));
    expect(boxOf("\u00ef")?.width).toBeCloseTo(2, 6);
  });

  it("tell the signs for which a box stands", () => {
    expect(findUndrawn("G\u00e4rtner\u2019s 94 \u20ac, \u00bd m\u00b2, \u0141\u00f3d\u017a <b>")).toEqual([]);
    expect(findUndrawn("\u6f6e a \u672a\u6f6e")).toEqual(["\u6f6e", "\u672a"]);
    expect(boxOf("\u6f6e")).toEqual(boxOf("\u672a"));
    expect(boxOf("constructor")?.width).toBeGreaterThan(20);
    expect(findUndrawn("constructor __proto__")).toEqual([]);
  });
});
