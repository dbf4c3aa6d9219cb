import { describe, expect, it } from "vitest";
import { colourway, toLab } from "../colour/index.js";
import { border } from "./border.js";
import { colourCard } from "./colour-card.js";
import { LETTERS } from "./letters.js";

const print = border({
  name: "Stripes",
  repeat: 320,
  width: 1400,
  ground: "#f2ead8",
  bands: [{ name: "sea", from: 0, to: 300, ground: "#1b2a41" }],
});
const night = colourway("Nightjar", { "#f2ead8": "#1d1a26" });

describe("colourCard", () => {
  it("shows every ink with its name, hex, Lab and coverage", () => {
    const coverage = [{ ink: "#f2ead8", share: 0.7857 }];
    const card = colourCard(print, night, { coverage, names: { "#f2ead8": "Foam" } });
    const titles = [...card.matchAll(/<title>([^<]*)<\/title>/g)].map((match) => match[1]);
    const { l, a, b } = toLab("#1d1a26", "D50");
    expect(titles).toContain("Foam");
    expect(titles).toContain(`#1d1a26   Lab ${l.toFixed(1)} ${a.toFixed(1)} ${b.toFixed(1)}`);
    expect(titles).toContain("covers 78.57%");
    expect(titles).toContain("as drawn");
    expect(card).toContain('fill="#1d1a26"');
    expect(card).toContain('fill="#1b2a41"');
  });

  it("needs no font: nothing in it is live text", () => {
    expect(colourCard(print, night)).not.toContain("<text");
  });

  it("draws every letter, digit and sign that it writes itself", () => {
    const own = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789#-+.,%()/:'& ";
    expect([...own].filter((sign) => LETTERS[sign] === undefined)).toEqual([]);
    const shapes = Object.values(LETTERS);
    expect(new Set(shapes).size).toBe(shapes.length);
  });

  it("stays on the card, however long a name is", () => {
    const card = colourCard(print, colourway("N".repeat(200), {}));
    const places = [...card.matchAll(/translate\(([\d.]+) 0\)/g)].map((match) => Number(match[1]));
    expect(Math.max(...places) * (4 / 6)).toBeLessThan(120 - 2 * 6);
  });
});
