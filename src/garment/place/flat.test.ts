import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { pathBounds } from "../../geometry/path-bounds.js";
import { straight } from "../../repeat/build/all-over.js";
import { place } from "../../repeat/build/place.js";
import { dress } from "../dress/dress.js";
import { writeDressed } from "../dress/write-dressed.js";
import {
  EDGE_TOLERANCE,
  HEM_INK,
  one,
  PAGE_UNIT,
  page,
  refused,
  SCALE,
  TRUE_SIZE,
  write,
} from "../dress.fixture.js";
import { shapesOf } from "../pictures.fixture.js";
import { HOOK, hookHalfDrop, shoreBorder, wrapDress } from "../sketches.fixture.js";

describe("placement", () => {
  it.each([
    ["bottom", 0],
    ["bottom", 12],
    ["top", 0],
    ["top", 7],
  ] as const)("lays a band's edge on a straight %s edge, %d mm of real cloth between", (edge, gap) => {
    const sketch = wrapDress();
    const panel = one(sketch, "#pocket");
    const box = pathBounds(panel.outline);
    const svg = write(sketch, [{ panel: "#pocket", band: "hem", edge, gap }]);
    const band = shapesOf(svg).find(
      ({ element, print }) => print !== undefined && element.attributes.fill === HEM_INK,
    );
    const drawn = band && pathBounds(band.outline);
    if (!box || !drawn) throw new Error("no band");
    const met = edge === "bottom" ? drawn.y + drawn.height : drawn.y;
    const wanted = edge === "bottom" ? box.y + box.height - gap / 2 : box.y + gap / 2;
    expect(Math.abs(met - wanted) * PAGE_UNIT).toBeLessThan(EDGE_TOLERANCE);
  });

  it("turns an all-over print by any angle where nobody names an edge", () => {
    for (const drape of [false, true])
      for (const grain of [0, 30, 60, 90, 135, 180, 270, -45]) {
        const panels = [{ panel: "#pocket", grain, drape }];
        const { report } = dress(wrapDress(), hookHalfDrop(), { scale: SCALE, panels });
        expect(report.panels[0]?.grain).toBeCloseTo(grain, 9);
      }
    const border = { panel: "#pocket", grain: 90 };
    expect(() => dress(wrapDress(), shoreBorder(), { scale: SCALE, panels: [border] })).toThrow(
      refused("E_LAYOUT"),
    );
    const named = { ...border, edge: "top" } as const;
    expect(() => dress(wrapDress(), hookHalfDrop(), { scale: SCALE, panels: [named] })).toThrow(
      refused("E_LAYOUT"),
    );
  });

  it("turns a band to a side edge", () => {
    for (const edge of ["left", "right"] as const) {
      const sketch = wrapDress();
      const box = pathBounds(one(sketch, "#pocket").outline);
      const svg = write(sketch, [{ panel: "#pocket", band: "hem", edge }]);
      const band = shapesOf(svg).find(
        ({ element, print }) => print !== undefined && element.attributes.fill === HEM_INK,
      );
      const drawn = band && pathBounds(band.outline);
      if (!box || !drawn) throw new Error("no band");
      const met = edge === "left" ? drawn.x : drawn.x + drawn.width;
      const wanted = edge === "left" ? box.x : box.x + box.width;
      expect(Math.abs(met - wanted) * PAGE_UNIT).toBeLessThan(EDGE_TOLERANCE);
    }
  });

  it("puts a pinned point of the print on a point of the sketch, whatever the grain", () => {
    fc.assert(
      fc.property(fc.integer({ min: -180, max: 180 }), (grain) => {
        const dot = straight({
          name: "Hooks",
          width: 500,
          height: 500,
          motifs: [place(HOOK, { at: [100, 100], width: 20 })],
        });
        const sketch = page('<rect id="p" x="10" y="10" width="80" height="80" fill="#fff"/>');
        const { body } = dress(sketch, dot, {
          scale: TRUE_SIZE,
          panels: [{ panel: "#p", pin: { print: [100, 100], at: [40, 60] }, grain }],
        });
        const svg = writeDressed({
          ...dress(sketch, dot, {
            scale: TRUE_SIZE,
            panels: [{ panel: "#p", pin: { print: [100, 100], at: [40, 60] }, grain }],
          }),
          body,
        });
        const hook = shapesOf(svg).find(
          ({ print, element }) => print !== undefined && element.name === "path",
        );
        // The hook's frame is 20 x 20 about its centre: 3,3 is its first point, 7 to the left and 7 up.
        const angle = (grain * Math.PI) / 180;
        const [x, y] = hook?.outline.subpaths[0]?.points ?? [];
        expect(x).toBeCloseTo(40 - 7 * Math.cos(angle) + 7 * Math.sin(angle), 3);
        expect(y).toBeCloseTo(60 - 7 * Math.sin(angle) - 7 * Math.cos(angle), 3);
      }),
      { numRuns: 20 },
    );
  });

  it("lays the warp parallel to a named edge, the print the right way up", () => {
    const sketch = wrapDress();
    const { report } = dress(sketch, hookHalfDrop(), {
      scale: SCALE,
      panels: [{ panel: "#sleeve-left", grain: "top" }],
    });
    // From 30,150 to 110,60: the warp of an all-over runs down the artwork, so this is 90 degrees less.
    const chord = (Math.atan2(-90, 80) * 180) / Math.PI;
    expect(report.panels[0]?.grain).toBeCloseTo(chord + 90, 6);
    const level = dress(sketch, shoreBorder(), {
      scale: SCALE,
      panels: [{ panel: "#pocket", grain: "bottom" }],
    });
    expect(level.report.panels[0]?.grain).toBeCloseTo(0, 9);
  });

  it("centres a motif on the panel's centre line", () => {
    const sketch = wrapDress();
    const svg = write(sketch, [{ panel: "#pocket", band: "hem", centre: "hook", gap: "-1cm" }]);
    const box = pathBounds(one(sketch, "#pocket").outline);
    const hooks = shapesOf(svg)
      .filter(({ print, element }) => print !== undefined && element.attributes.fill === "#1b2a41")
      .map(({ outline }) => pathBounds(outline));
    const centres = hooks.map((hook) => (hook ? hook.x + hook.width / 2 : Number.NaN));
    const middle = box ? box.x + box.width / 2 : Number.NaN;
    expect(Math.min(...centres.map((x) => Math.abs(x - middle)))).toBeLessThan(1e-3);
    expect(() => write(sketch, [{ panel: "#pocket", centre: "heron" }])).toThrow(refused("E_LAYOUT"));
  });

  it("reports what a panel needs beyond the selvedge, and leaves it bare", () => {
    const sketch = wrapDress();
    // 58 in of cloth are 1473.2 mm; the skirt is 285 units of 2 mm high, and its hem lies 1000 mm below the top.
    const { report } = dress(sketch, shoreBorder(), {
      scale: SCALE,
      panels: [{ panel: "#skirt-front", level: "400mm" }],
    });
    const box = pathBounds(one(sketch, "#skirt-front").outline);
    const [panel] = report.panels;
    expect(panel?.beyond).toEqual([
      { selvedge: "top", by: expect.closeTo(2 * (box?.height ?? 0) - 400, 6) as number },
    ]);
    expect(
      report.notes.some(
        ({ code, message }) => code === "N_CLOTH" && /cm beyond the top selvedge/.test(message),
      ),
    ).toBe(true);
    const grounds = shapesOf(write(sketch, [{ panel: "#skirt-front", level: "400mm" }])).filter(
      ({ print, element }) => print !== undefined && element.attributes.fill === "#d7e3e0",
    );
    const top = Math.min(...grounds.map(({ outline }) => pathBounds(outline)?.y ?? 0));
    expect(top).toBeCloseTo((box?.y ?? 0) + (box?.height ?? 0) - 200, 3);
  });

  it("reports an all-over panel that is wider than its cloth", () => {
    const { report } = dress(wrapDress(), hookHalfDrop(), {
      scale: SCALE,
      clothWidth: "50cm",
      panels: [{ panel: "#skirt-front" }],
    });
    expect(report.panels[0]?.beyond).toEqual([{ selvedge: "either", by: expect.closeTo(60, 6) as number }]);
  });

  it("warns where a straight band meets a bent edge", () => {
    const bent = dress(wrapDress(), shoreBorder(), {
      scale: SCALE,
      panels: [{ panel: "#skirt-front", band: "hem" }],
    });
    expect(bent.report.notes.map(({ code }) => code)).toEqual(["N_EDGE_BENDS"]);
    const straightEdge = dress(wrapDress(), shoreBorder(), {
      scale: SCALE,
      panels: [{ panel: "#pocket", band: "hem" }],
    });
    expect(straightEdge.report.notes).toEqual([]);
  });
});
