import { describe, expect, it } from "vitest";
import { colourway, toLab } from "../../colour/index.js";
import { pathBounds } from "../../geometry/path-bounds.js";
import { readPath } from "../../geometry/read-path.js";
import { border } from "../build/border.js";
import { colourCard } from "./colour-card.js";

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

  it("stays on the card, however long a name is", () => {
    const card = colourCard(print, colourway("N".repeat(200), {}));
    for (const [, d = ""] of card.matchAll(/ d="([^"]+)"/g)) {
      const box = pathBounds(readPath(d));
      expect((box?.x ?? 0) + (box?.width ?? 0)).toBeLessThan(120 - 6);
    }
  });
});
