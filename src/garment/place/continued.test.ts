import { describe, expect, it } from "vitest";
import { dress } from "../dress/dress.js";
import { page, refused, write } from "../dress.fixture.js";
import { shoreBorder, wrapDress } from "../sketches.fixture.js";

describe("panels that go on over a seam", () => {
  const seams = `<path id="front" d="M10 10H40V90H10Z" fill="#fff"/><path id="side" d="M40 20H70V90H40Z" fill="#fff"/>
    <path id="apart" d="M75 5H95V75H75Z" fill="#fff"/>`;

  it("continue: phase and level run on across a seam, drawn together or apart", () => {
    const { report } = dress(page(seams), shoreBorder(), {
      scale: { of: "#l", is: "100cm" },
      panels: [
        { panel: "#front", band: "hem", gap: "2cm", along: "3cm" },
        { panel: "#side", continues: "#front" },
        { panel: "#apart", continues: { panel: "#front", from: "right", to: "left" } },
      ],
    });
    const [front, side, apart] = report.panels.map(({ takes }) => takes);
    if (!front || !side || !apart) throw new Error("no panels");
    expect(side.x).toBeCloseTo(front.x + front.width, 6);
    expect(side.y).toBeCloseTo(front.y + 100, 6);
    expect(apart.x).toBeCloseTo(front.x + front.width, 6);
    // Halfway down both seams lies the same level.
    expect(apart.y + apart.height / 2).toBeCloseTo(front.y + front.height / 2, 6);
  });

  it("continue: a draped panel goes on where its draped neighbour ends", () => {
    const sketch = page(`<path id="front" d="M10 10Q25 14 40 10L45 90Q25 95 5 90Z" fill="#fff"/>
      <path id="back" d="M50 10Q65 14 80 10L85 90Q65 95 45 90Z" fill="#fff"/>`);
    const { report } = dress(sketch, shoreBorder(), {
      scale: { of: "#l", is: "100cm" },
      panels: [
        { panel: "#front", band: "hem", drape: true },
        { panel: "#back", continues: { panel: "#front", from: "right", to: "left" }, drape: true },
      ],
    });
    const [front, back] = report.panels.map(({ takes }) => takes);
    expect(back?.x).toBeCloseTo((front?.x ?? 0) + (front?.width ?? 0), 6);
    expect(back?.y).toBeCloseTo(front?.y ?? Number.NaN, 6);
  });

  it("refuse to look at panels that do not stand before them, and to be dressed twice", () => {
    expect(() => write(wrapDress(), [{ panel: "#pocket", mirrors: "#bodice" }])).toThrow(refused("E_LAYOUT"));
    expect(() => write(wrapDress(), [{ panel: "#pocket" }, { panel: { fill: "#e8d9b5" } }])).toThrow(
      refused("E_ID"),
    );
    expect(() => write(wrapDress(), [{ panel: "#pocket", band: "cuff" }])).toThrow(refused("E_BAND"));
    expect(() => write(wrapDress(), [{ panel: "#pocket", band: "hem", edge: "left", grain: 0 }])).toThrow(
      refused("E_LAYOUT"),
    );
  });
});
