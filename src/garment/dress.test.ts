import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { colourway } from "../colour/index.js";
import type { RepetendError } from "../errors.js";
import { applyTo } from "../geometry/affine.js";
import { pointOn } from "../geometry/cubic.js";
import { type Cubic, cubicsOf } from "../geometry/cubic-path.js";
import { nearestOnCubics } from "../geometry/nearest.js";
import { pathBounds } from "../geometry/path-bounds.js";
import { composeSmooth, smoothAffine } from "../geometry/smooth-map.js";
import { motif } from "../motif/index.js";
import { straight } from "../repeat/all-over.js";
import { place } from "../repeat/place.js";
import { recolour } from "../repeat/recolour.js";
import { dress } from "./dress.js";
import { cutEdges } from "./edges.js";
import type { PanelOptions } from "./options.js";
import { differingShare, renderPixels, shapesOf } from "./pictures.fixture.js";
import { placePanel } from "./place-panel.js";
import { readSketch } from "./read-sketch.js";
import { recolourDressed } from "./recolour-dressed.js";
import { choosePanels } from "./select.js";
import { sketchScale } from "./sketch-scale.js";
import { HOOK, hookHalfDrop, SEED, shoreBorder, wrapDress } from "./sketches.fixture.js";
import type { Sketch } from "./types.js";
import { writeDressed } from "./write-dressed.js";

const SCALE = { of: "#length-line", is: "82cm" } as const;
/** Two user units a mm of the page: the fixture's. */
const PAGE_UNIT = 0.5;
/** On the page, in mm. */
const EDGE_TOLERANCE = 0.02;
const HEM_INK = "#7a8b5f";

const refused = (code: string) => expect.objectContaining({ code }) as RepetendError;
const one = (sketch: Sketch, id: string) => {
  const [shape] = choosePanels(sketch, id);
  if (!shape) throw new Error("no panel");
  return shape;
};
const write = (sketch: Sketch, panels: readonly PanelOptions[], print = shoreBorder()) =>
  writeDressed(dress(sketch, print, { scale: SCALE, panels }));

/** A square page of 100 mm, one unit a mm, with one panel, true to size. */
const page = (panel: string) =>
  readSketch(
    `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">` +
      `<line id="l" x1="0" y1="0" x2="0" y2="100" stroke="#000"/>${panel}</svg>`,
  );
const TRUE_SIZE = { of: "#l", is: "100mm" } as const;

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

describe("panels that look at each other", () => {
  it("mirror: left and right sleeves are mirror images", () => {
    const sketch = readSketch(
      `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
       <line id="l" x1="50" y1="0" x2="50" y2="60" stroke="#000" stroke-width="0.2"/>
       <path id="left" d="M40 5L35 40L5 50L10 20Z" fill="#fff" stroke="#000"/>
       <path id="right" d="M60 5L65 40L95 50L90 20Z" fill="#fff" stroke="#000"/></svg>`,
    );
    for (const drape of [false, true]) {
      const dressed = dress(sketch, hookHalfDrop(), {
        scale: { of: "#l", is: "60cm" },
        panels: [
          { panel: "#left", grain: drape ? 0 : 25, drape },
          { panel: "#right", mirrors: "#left" },
        ],
      });
      expect(dressed.report.panels[1]?.mirrored).toBe("artwork");
      expect(dressed.report.notes.filter(({ code }) => code === "N_MIRROR")).toEqual([]);
      const { data, width, height } = renderPixels(writeDressed(dressed), 400);
      const flipped = new Uint8Array(data.length);
      for (let y = 0; y < height; y += 1)
        for (let x = 0; x < width; x += 1) {
          const from = 4 * (y * width + x);
          flipped.set(data.subarray(from, from + 4), 4 * (y * width + width - 1 - x));
        }
      expect(differingShare(data, flipped, 24)).toBeLessThan(1e-4);
      // And there is a print to be mirrored.
      expect(new Set(data).size).toBeGreaterThan(20);
    }
  });

  it("mirror by placement: the print keeps its face, level and phase are mirrored", () => {
    const dressed = dress(wrapDress(), shoreBorder(), {
      scale: SCALE,
      panels: [
        { panel: "#sleeve-left", band: "hem", grain: 10 },
        { panel: "#sleeve-right", mirrors: "#sleeve-left", mirrored: "placement" },
      ],
    });
    const [left, right] = dressed.report.panels;
    expect(right?.mirrored).toBe("placement");
    expect(right?.grain).toBeCloseTo(-10, 9);
    expect(right?.takes.y).toBeCloseTo(left?.takes.y ?? Number.NaN, 6);
    expect(right?.takes.x).toBeCloseTo(-(left?.takes.x ?? Number.NaN) - (left?.takes.width ?? 0), 6);
  });

  it("mirror: says by how much the partner is no mirror image", () => {
    const { report } = dress(wrapDress(), shoreBorder(), {
      scale: SCALE,
      panels: [{ panel: "#sleeve-left" }, { panel: "#pocket", mirrors: "#sleeve-left" }],
    });
    expect(report.notes.some(({ code }) => code === "N_MIRROR")).toBe(true);
  });

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

describe("the dressed sketch", () => {
  it("keeps outlines, stitching and shading above the print, and everything else as it was", () => {
    const sketch = wrapDress();
    const svg = write(sketch, [{ panel: "#skirt-front", band: "hem", drape: true }]);
    const shapes = shapesOf(svg);
    const lastPrint = shapes.map(({ print }) => print !== undefined).lastIndexOf(true);
    const above = shapes.slice(lastPrint + 1).map(({ element }) => element);
    expect(above[0]?.attributes.fill).toBe("none");
    expect(above.some((element) => element.attributes.style?.includes("multiply"))).toBe(true);
    const bare = shapesOf(writeDressed(dress(sketch, shoreBorder(), { scale: SCALE, panels: [] })));
    const untouched = shapes
      .filter(({ print }) => print === undefined)
      .map(({ element }) => element.attributes.d ?? element.name);
    expect(untouched).toEqual(bare.map(({ element }) => element.attributes.d ?? element.name));
  });

  it("is, undressed, the sketch", () => {
    const sketch = wrapDress();
    const dressed = dress(sketch, shoreBorder(), { scale: SCALE, panels: [] });
    expect(dressed.body).toEqual(sketch.body);
  });

  it("prints nothing outside of its panels", () => {
    const sketch = wrapDress();
    const bare = renderPixels(writeDressed(dress(sketch, shoreBorder(), { scale: SCALE, panels: [] })), 400);
    const full = renderPixels(
      write(sketch, [
        { panel: "#pocket", band: "hem" },
        { panel: "#skirt-front", drape: true },
      ]),
      400,
    );
    const boxes = ["#pocket", "#skirt-front"].map((id) => pathBounds(one(sketch, id).outline));
    for (let y = 0; y < bare.height; y += 1)
      for (let x = 0; x < bare.width; x += 1) {
        const inside = boxes.some(
          (box) =>
            box &&
            x >= box.x - 2 &&
            x <= box.x + box.width + 2 &&
            y >= box.y - 2 &&
            y <= box.y + box.height + 2,
        );
        const at = 4 * (y * bare.width + x);
        if (!inside && full.data[at] !== bare.data[at]) throw new Error(`changed at ${x}, ${y}`);
      }
  });

  it("paints motifs as their own, whatever the panel's groups hand down", () => {
    const paint = 'stroke="#ff00ff" stroke-width="4" stroke-dasharray="1 1" fill-rule="evenodd"';
    const panel = '<path id="p" d="M10 10H90V90H10Z" fill="#ffffff" stroke="none"/>';
    const inGroup = page(`<g ${paint}>${panel}<path d="M0 0H1V1Z"/></g>`);
    const alone = page(panel);
    const panels = [{ panel: "#p", along: "4cm" }];
    const render = (sketch: Sketch) =>
      renderPixels(
        writeDressed(dress(sketch, hookHalfDrop(), { scale: { of: "#l", is: "40cm" }, panels })),
        200,
      ).data;
    expect(differingShare(render(inGroup), render(alone), 2)).toBeLessThan(0.01);
  });

  it("takes several prints, each with its own definitions", () => {
    const other = recolour(hookHalfDrop(), colourway("Other", { "#1b2a41": "#884422" }));
    const dressed = dress(wrapDress(), hookHalfDrop(), {
      scale: SCALE,
      panels: [
        { panel: "#bodice" },
        { panel: "#pocket", print: other },
        { panel: "#sleeve-left", print: shoreBorder() },
      ],
    });
    expect(dressed.report.panels.map(({ print }) => print)).toEqual(["Hooks", "Hooks", "Shore"]);
    const ids = dressed.printDefs.map(({ attributes }) => attributes.id);
    expect(new Set(ids).size).toBe(ids.length);
    const inks = dressed.inks.map(({ ink }) => ink);
    expect(inks).toContain("#1b2a41");
    expect(inks).toContain("#884422");
    const fills = shapesOf(writeDressed(dressed))
      .filter(({ print }) => print === "panel-2")
      .map(({ element }) => element.attributes.fill);
    expect(fills).toContain("#884422");
    expect(fills).not.toContain("#1b2a41");
  });

  it("recoloured equals the recoloured print dressed, draped panels too", () => {
    const dusk = colourway("Dusk", {
      "#d7e3e0": "#1b2a41",
      "#1b2a41": "#d7e3e0",
      [HEM_INK]: "#442211",
      "#c8553d": "#e3c16f",
      "#222222": "#ff0000",
    });
    const border = shoreBorder();
    const panels: readonly PanelOptions[] = [
      { panel: "#skirt-front", band: "hem", drape: true },
      { panel: "#bodice" },
      { panel: "#sleeve-left" },
      { panel: "#sleeve-right", mirrors: "#sleeve-left" },
    ];
    const once = recolourDressed(dress(wrapDress(), border, { scale: SCALE, panels }), dusk);
    const again = dress(wrapDress(), recolour(border, dusk), { scale: SCALE, panels });
    const [one, other] = [once, again].map((dressed) => renderPixels(writeDressed(dressed), 300));
    expect(one?.data).toEqual(other?.data);
    expect(new Set(once.inks.map(({ ink }) => ink))).toEqual(new Set(again.inks.map(({ ink }) => ink)));
    // The outline has a colour of the table, but is no ink of the print.
    expect(writeDressed(once)).not.toContain("#ff0000");
  });

  it("recolours the garment's own inks that are named, and only those", () => {
    const dressed = dress(wrapDress(), hookHalfDrop(), {
      scale: SCALE,
      panels: [{ panel: "#bodice" }],
      garmentInks: ["#e8d9b5", "#faf7f2"],
    });
    expect(dressed.inks.map(({ ink }) => ink)).toContain("#e8d9b5");
    const svg = writeDressed(
      recolourDressed(dressed, colourway("Trim", { "#e8d9b5": "#00aa00", "#222222": "#0000ff" })),
    );
    const fills = shapesOf(svg).map(({ element }) => element.attributes.fill);
    expect(fills).toContain("#00aa00");
    expect(fills).not.toContain("#e8d9b5");
    expect(svg).not.toContain("#0000ff");
  });

  it("is the same text from the same input", () => {
    const panels: readonly PanelOptions[] = [{ panel: "#skirt-front", drape: true }];
    expect(write(wrapDress(), panels)).toBe(write(wrapDress(), panels));
  });
});

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

  it("reports folds with their place, and none where there are none", () => {
    const hourglass = page(
      '<path id="p" d="M10 10H90C30 40 30 60 90 90H10C70 60 70 40 10 10Z" fill="#fff"/>',
    );
    const folded = dress(hourglass, shoreBorder(), {
      scale: { of: "#l", is: "100cm" },
      panels: [{ panel: "#p", drape: true }],
    });
    const [fold] = folded.report.notes.filter(({ code }) => code === "N_FOLD");
    expect(fold?.message).toMatch(/near (4|5)\d\.\d+, (4|5)\d\.\d+/);
    const sound = dress(wrapDress(), shoreBorder(), {
      scale: SCALE,
      panels: [{ panel: "#skirt-front", drape: true }],
    });
    expect(sound.report.notes).toEqual([]);
  });

  it("proves a fold too small for any grid, and says where none can be ruled out", () => {
    const notesOf = (panel: string) =>
      dress(page(panel), shoreBorder(), {
        scale: { of: "#l", is: "100cm" },
        panels: [
          {
            panel: "#p",
            drape: {
              corners: [
                [10, 10],
                [90, 10],
                [90, 90],
                [10, 90],
              ],
            },
          },
        ],
      }).report.notes.map(({ code, level }) => [code, level]);
    expect(notesOf('<path id="p" d="M10 10H90V90H10V52C13 46 13 54 10 48Z" fill="#fff"/>')).toEqual([
      ["N_FOLD", "warning"],
    ]);
    // The upper right corner is drawn away: the sides run into each other there.
    expect(notesOf('<path id="p" d="M10 10H70C90 10 90 10 90 30V90H10Z" fill="#fff"/>')).toEqual([
      ["N_FOLD_OPEN", "info"],
    ]);
  });

  it("mirrors filters with the artwork, and names the panel of one that cannot be draped", () => {
    const shifted = (step: string) =>
      straight({
        name: "Shifted",
        width: 60,
        height: 60,
        motifs: [
          place(
            motif(
              `<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="40mm" viewBox="0 0 40 40"><filter id="f" filterUnits="userSpaceOnUse" x="0" y="0" width="40" height="40">${step}</filter><path d="M2 10H20V30H12V18H2Z" fill="#1b2a41" filter="url(#f)"/></svg>`,
              { name: "shifted", filters: true },
            ),
            { at: [30, 30] },
          ),
        ],
      });
    const sketch = page(
      '<path id="p" d="M10 10L45 14V90H5Z" fill="#fff"/><path id="q" d="M90 10L55 14V90H95Z" fill="#fff"/>',
    );
    const dressed = (step: string) =>
      dress(sketch, shifted(step), {
        scale: { of: "#l", is: "40cm" },
        panels: [
          { panel: "#p", drape: true },
          { panel: "#q", mirrors: "#p" },
        ],
      });
    const { data, width, height } = renderPixels(writeDressed(dressed('<feOffset dx="15" dy="4"/>')), 400);
    const flipped = new Uint8Array(data.length);
    for (let y = 0; y < height; y += 1)
      for (let x = 0; x < width; x += 1)
        flipped.set(
          data.subarray(4 * (y * width + x), 4 * (y * width + x) + 4),
          4 * (y * width + width - 1 - x),
        );
    // The length line stands at the left edge only, two pixels wide; a renderer shifts by whole pixels.
    expect(differingShare(data, flipped, 150)).toBeLessThan(0.01 + 0.001);
    expect(new Set(data).size).toBeGreaterThan(20);
    expect(() => dressed('<feTurbulence baseFrequency="0.1"/>')).toThrow(
      expect.objectContaining({ code: "E_FEATURE", input: "#p" }) as RepetendError,
    );
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
    ).toThrow(refused("E_LAYOUT"));
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

  it("lists gradients as approximate and lays them by the best local map", () => {
    const print = straight({
      name: "Seeds",
      width: 100,
      height: 100,
      ground: "#ffffff",
      motifs: [place(SEED, { at: [50, 50], width: 80 })],
    });
    const dressed = dress(wrapDress(), print, {
      scale: SCALE,
      panels: [{ panel: "#skirt-front", drape: true }],
    });
    expect(dressed.report.notes).toEqual([expect.objectContaining({ code: "N_APPROXIMATE", level: "info" })]);
    const gradients = dressed.printDefs.filter(({ name }) => name === "linearGradient");
    expect(gradients.length).toBeGreaterThan(5);
    for (const { attributes } of gradients) expect(attributes.gradientUnits).toBe("userSpaceOnUse");
    // The gradient runs across each seed: its two ends lie left and right of the seed's middle.
    const [seed] = shapesOf(writeDressed(dressed)).filter(({ element }) =>
      element.attributes.fill?.startsWith("url("),
    );
    const box = seed && pathBounds(seed.outline);
    const id = seed?.element.attributes.fill?.slice(5, -1);
    const gradient = gradients.find(({ attributes }) => attributes.id === id);
    const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0] =
      (gradient?.attributes.gradientTransform ?? "").match(/-?[\d.]+/g)?.map(Number) ?? [];
    const map = { a, b, c, d, e, f };
    const [from, to] = [applyTo(map, { x: 0, y: 0.5 }), applyTo(map, { x: 1, y: 0.5 })];
    expect(from.x).toBeCloseTo(box?.x ?? Number.NaN, -0.5);
    expect(to.x).toBeCloseTo((box?.x ?? 0) + (box?.width ?? 0), -0.5);
  });

  it("keeps two colourings of one gradient motif apart, flat and draped", () => {
    const [blue] = recolour(
      straight({ name: "Blue", width: 90, height: 90, motifs: [place(SEED, { at: [45, 45] })] }),
      colourway("Blue", { "#c8553d": "#123456", "#e3c16f": "#234567" }),
    ).motifs;
    if (!blue) throw new Error("no motif");
    const print = straight({
      name: "Seeds",
      width: 120,
      height: 60,
      ground: "#ffffff",
      motifs: [place(SEED, { at: [30, 30], width: 40 }), place(blue.motif, { at: [90, 30], width: 40 })],
    });
    for (const drape of [false, true]) {
      const { printDefs } = dress(wrapDress(), print, {
        scale: SCALE,
        panels: [{ panel: "#skirt-front", drape }],
      });
      const stops = new Set(
        printDefs
          .filter(({ name }) => name === "linearGradient")
          .map(({ children }) =>
            children.map((one) => (one.type === "element" ? one.attributes["stop-color"] : "")).join(" "),
          ),
      );
      expect([drape, ...stops].sort()).toEqual([drape, "#123456 #234567", "#c8553d #e3c16f"].sort());
    }
  });

  it("refuses a scale at which nobody could see the print", () => {
    const panels: readonly PanelOptions[] = [{ panel: "#skirt-front" }];
    const far = { of: "#length-line", is: "9km" } as const;
    expect(() => dress(wrapDress(), hookHalfDrop(), { scale: far, panels })).toThrow(refused("E_UNIT"));
    expect(() => dress(wrapDress(), hookHalfDrop(), { scale: { ...far, is: "9000m" }, panels })).toThrow(
      refused("E_LIMIT"),
    );
  });

  it("refuses fullness that is none", () => {
    for (const fullness of [0.5, 11, Number.NaN])
      expect(() => write(wrapDress(), [{ panel: "#skirt-front", drape: { fullness } }])).toThrow(
        refused("E_NUMBER"),
      );
  });
});
