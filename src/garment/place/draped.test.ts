import { describe, expect, it } from "vitest";
import { pointOn } from "../../geometry/cubic.js";
import { type Cubic, cubicsOf } from "../../geometry/cubic-path.js";
import { nearestOnCubics } from "../../geometry/nearest.js";
import { pathBounds } from "../../geometry/path-bounds.js";
import { composeSmooth, smoothAffine } from "../../geometry/smooth-map.js";
import { motif } from "../../motif/index.js";
import { straight } from "../../repeat/build/all-over.js";
import { place } from "../../repeat/build/place.js";
import { dress } from "../dress/dress.js";
import { writeDressed } from "../dress/write-dressed.js";
import { EDGE_TOLERANCE, HEM_INK, one, PAGE_UNIT, page, refused, SCALE, write } from "../dress.fixture.js";
import type { PanelOptions } from "../options.js";
import { shapesOf } from "../pictures.fixture.js";
import { sketchScale } from "../sketch/scale.js";
import { hookHalfDrop, shoreBorder, wrapDress } from "../sketches.fixture.js";
import { cutEdges } from "./edges.js";
import { placePanel } from "./place-panel.js";

describe("drape", () => {
  it("lays a band's edge on the panel's curved edge, everywhere", () => {
    for (const edge of ["bottom", "top"] as const) {
      const sketch = wrapDress();
      const svg = write(sketch, [{ panel: "#skirt-front", band: "hem", edge, drape: true }]);
      const edges = cutEdges(one(sketch, "#skirt-front").outline, undefined, "skirt");
      const ground = shapesOf(svg).find(
        ({ print, element }) => print !== undefined && element.attributes.fill === HEM_INK,
      );
      const outline = ground?.outline.subpaths.flatMap(cubicsOf) ?? [];
      // Each place of the panel's edge is met by the band's.
      for (const cubic of cubicsOf(edges[edge]))
        for (let k = 0; k <= 40; k += 1) {
          const met = nearestOnCubics(outline, pointOn(cubic, k / 40));
          expect((met?.distance ?? Infinity) * PAGE_UNIT).toBeLessThan(EDGE_TOLERANCE);
        }
      // And the band lies on the panel's side of it.
      const [box, panel] = [
        ground && pathBounds(ground.outline),
        pathBounds(one(sketch, "#skirt-front").outline),
      ];
      if (!box || !panel) throw new Error("no band");
      if (edge === "bottom") expect(box.y).toBeGreaterThan(panel.y + panel.height / 2);
      else expect(box.y + box.height).toBeLessThan(panel.y + panel.height / 2);
    }
  });

  it("keeps every path within 0.02 mm of the page of its true image, as written", () => {
    const sketch = wrapDress();
    const shape = one(sketch, "#skirt-front");
    const options = { panel: "#skirt-front", band: "hem", drape: true } as const;
    const scale = sketchScale(sketch, SCALE);
    const placed = placePanel(
      { sketch, scale, earlier: new Map() },
      "skirt",
      shape,
      0,
      shoreBorder(),
      options,
    );
    if (!placed.draped) throw new Error("not draped");
    const map = composeSmooth(smoothAffine(placed.frame.toSketch), placed.draped.map);
    const written = shapesOf(write(sketch, [options]))
      .filter(({ print, element }) => print !== undefined && element.attributes.stroke === "#3e6b4f")
      .map(({ outline }) => cubicsOf(outline.subpaths[0] ?? { closed: false, points: [] }));
    // The reed's stem: 20 units are 7 in, its frame's centre lies 6 in below the band's top, 4 in apart.
    const stem: Cubic = [10, 19, 8, 12, 9, 6, 13, 1];
    const unit = (7 * 25.4) / 20;
    let met = 0;
    for (let k = -5; k <= 5; k += 1) {
      const truth = Array.from({ length: 400 }, (_, j) => {
        const at = pointOn(stem, j / 399);
        return map(unit * (at.x - 10) + 25.4 * (2 + 4 * k), unit * (at.y - 10) + 25.4 * 46);
      });
      const first = truth[0];
      const image = written.find((cubics) => {
        const start = cubics[0];
        return start && first && Math.hypot(start[0] - first.x, start[1] - first.y) < 1;
      });
      if (image === undefined) continue;
      met += 1;
      for (const point of truth)
        expect((nearestOnCubics(image, point)?.distance ?? Infinity) * PAGE_UNIT).toBeLessThan(
          EDGE_TOLERANCE,
        );
    }
    expect(met).toBeGreaterThan(5);
  });

  it("on a rectangle is exactly the flat print", () => {
    const sketch = page('<path id="p" d="M20 10H80V90H20Z" fill="#fff"/>');
    const text = (drape: boolean) =>
      writeDressed(
        dress(sketch, shoreBorder(), {
          scale: { of: "#l", is: "100cm" },
          panels: [{ panel: "#p", band: "hem", drape }],
        }),
      );
    expect(
      shapesOf(text(true)).map(({ outline }) => outline.subpaths[0]?.points.map((n) => n.toFixed(4))),
    ).toEqual(
      shapesOf(text(false)).map(({ outline }) => outline.subpaths[0]?.points.map((n) => n.toFixed(4))),
    );
  });

  it("keeps true scale along the held edge, and says what is gathered at the other", () => {
    const sketch = wrapDress();
    const edges = cutEdges(one(sketch, "#skirt-front").outline, undefined, "skirt");
    const length = (edge: "top" | "bottom") =>
      cubicsOf(edges[edge]).reduce((sum, cubic) => {
        const points = Array.from({ length: 2001 }, (_, k) => pointOn(cubic, k / 2000));
        return (
          sum +
          points
            .slice(1)
            .reduce(
              (part, point, k) =>
                part + Math.hypot(point.x - (points[k]?.x ?? 0), point.y - (points[k]?.y ?? 0)),
              0,
            )
        );
      }, 0);
    const [top, bottom] = [2 * length("top"), 2 * length("bottom")];
    const reportOf = (drape: PanelOptions["drape"] & object) =>
      dress(sketch, shoreBorder(), { scale: SCALE, panels: [{ panel: "#skirt-front", band: "hem", drape }] })
        .report.panels[0];
    const byHem = reportOf({ hold: "bottom" });
    expect(byHem?.takes.width).toBeCloseTo(bottom, 2);
    expect(byHem?.gathers?.bottom).toBeCloseTo(1, 9);
    expect(byHem?.gathers?.top).toBeCloseTo(bottom / top, 4);
    const stretched = dress(sketch, shoreBorder(), {
      scale: SCALE,
      panels: [{ panel: "#skirt-front", band: "hem", drape: { hold: "top" } }],
    });
    expect(stretched.report.notes.map(({ code, message }) => [code, message.slice(0, 22)])).toEqual([
      ["N_STRETCH", "along the bottom edge "],
    ]);
    const byWaist = reportOf({ hold: "top", fullness: 1.5 });
    expect(byWaist?.takes.width).toBeCloseTo(1.5 * top, 2);
    expect(byWaist?.gathers?.top).toBeCloseTo(1.5, 9);
    const both = reportOf({ hold: "both" });
    expect(both?.gathers).toEqual({
      top: expect.closeTo(1, 9) as number,
      bottom: expect.closeTo(1, 9) as number,
    });
    expect(both?.takes.width).toBeCloseTo(bottom, 2);
  });

  it("follows guides", () => {
    const folds = page(
      `<path id="p" d="M20 10H80V90H20Z" fill="#fff"/><path id="f" d="M50 10C65 40 35 60 50 90" fill="none" stroke="#000"/>`,
    );
    const dash = motif(
      '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="90mm" viewBox="0 0 20 90"><path d="M10 5V85" fill="none" stroke="#c8553d"/></svg>',
      { name: "dash" },
    );
    const stripes = straight({
      name: "Stripe",
      width: 600,
      height: 100,
      motifs: [place(dash, { at: [0, 50] })],
    });
    const dressed = dress(folds, stripes, {
      scale: { of: "#l", is: "100cm" },
      panels: [{ panel: "#p", drape: { guides: ["#f"] } }],
    });
    expect(dressed.report.panels[0]?.how).toBe("draped");
    // What runs down the middle of the cloth lies on the guide, all the way.
    const guide: Cubic = [50, 10, 65, 40, 35, 60, 50, 90];
    const dashes = shapesOf(writeDressed(dressed)).filter(
      ({ element }) => element.attributes.stroke === "#c8553d",
    );
    expect(dashes.length).toBeGreaterThan(6);
    for (const cubic of dashes.flatMap(({ outline }) => outline.subpaths.flatMap(cubicsOf)))
      for (const t of [0, 0.3, 0.7, 1]) {
        const at = pointOn(cubic, t);
        // Beyond the panel's edges the cloth goes on straight.
        if (at.y < 10 || at.y > 90) continue;
        expect(nearestOnCubics([guide], at)?.distance).toBeLessThan(EDGE_TOLERANCE);
      }
    expect(() =>
      dress(folds, stripes, {
        scale: { of: "#l", is: "100cm" },
        panels: [{ panel: "#p", drape: { guides: ["M50 30L50 60"] } }],
      }),
    ).toThrow(
      expect.objectContaining({
        code: "E_LAYOUT",
        where: "#p, guides[0]",
        value: expect.stringMatching(/^\d+(?:\.\d)? % of the panel's size away$/),
        accepted: expect.stringContaining("from the top edge to the bottom edge"),
      }),
    );
  });

  it("takes corners and guides as the sketch says them, each panel its own", () => {
    const sketch = page(
      `<g transform="translate(5 0)"><path id="p" data-repetend-corners="10,10 40,10 40,90 10,90" d="M10 10L25 5L40 10V90H10Z" fill="#fff"/></g>
       <path id="q" d="M55 10H95V90H55Z" fill="#fff"/>
       <path class="fold" data-repetend-panel="p" d="M30 5C40 30 20 60 30 90" fill="none"/>
       <path class="fold" data-repetend-panel="q" d="M75 10C85 30 65 60 75 90" fill="none"/>`,
    );
    expect(one(sketch, "#p").corners?.[1]).toEqual({ x: 45, y: 10 });
    const drape = { hold: "top" as const, guides: [".fold"] };
    const { report } = dress(sketch, hookHalfDrop(), {
      scale: { of: "#l", is: "100cm" },
      panels: [
        { panel: "#p", drape },
        { panel: "#q", drape },
      ],
    });
    expect(report.notes).toEqual([]);
    // The top edge runs over the peak, from corner to corner: longer than the 300 mm between them.
    expect(report.panels[0]?.gathers?.top).toBeCloseTo(1, 9);
    expect(report.panels[0]?.takes.width).toBeCloseTo(20 * Math.hypot(15, 5), 3);
    expect(() => page('<path id="p" data-repetend-corners="1,2,3" d="M10 10H40V90Z"/>')).toThrow(
      refused("E_NUMBER"),
    );
  });

  it("refuses fullness that is none", () => {
    for (const fullness of [0.5, 11, Number.NaN])
      expect(() => write(wrapDress(), [{ panel: "#skirt-front", drape: { fullness } }])).toThrow(
        refused("E_NUMBER"),
      );
  });
});
