import { describe, expect, it } from "vitest";
import { colourway } from "../../colour/index.js";
import { pathBounds } from "../../geometry/path-bounds.js";
import { straight } from "../../repeat/build/all-over.js";
import { recolour } from "../../repeat/inks/recolour.js";
import type { Print } from "../../repeat/types.js";
import { HEM_INK, one, page, refused, SCALE, write } from "../dress.fixture.js";
import type { PanelOptions } from "../options.js";
import { differingShare, renderPixels, shapesOf } from "../pictures.fixture.js";
import { hookHalfDrop, shoreBorder, wrapDress } from "../sketches.fixture.js";
import type { Sketch } from "../types.js";
import { dress } from "./dress.js";
import { recolourDressed } from "./recolour-dressed.js";
import { writeDressed } from "./write-dressed.js";

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

  it("recolours each print by its own table, and by the one that is given where it has none of that name", () => {
    const [ink, other] = ["#d7e3e0", "#405060"];
    const plain = (name: string) => straight({ name, width: 80, height: 80, ground: ink, motifs: [] });
    const [main, own] = [plain("Main"), plain("Own")];
    const paint = (name: string) => {
      const dressed = dress(wrapDress(), main, {
        scale: SCALE,
        panels: [
          { panel: "#skirt-front", drape: true, colourways: [] },
          { panel: "#bodice", print: own, colourways: [colourway("Dusk", { [ink]: "#aa0000" })] },
          { panel: "#sleeve-left", print: own, drape: true },
          { panel: "#sleeve-right", mirrors: "#sleeve-left" },
        ],
        garmentInks: ["#e8d9b5"],
      });
      const shown = recolourDressed(dressed, colourway(name, { [ink]: other }));
      const fills = new Map(
        shapesOf(writeDressed(shown)).map(({ print, element: { attributes } }) => [print, attributes.fill]),
      );
      expect(shown.inks.reduce((sum, { uses }) => sum + uses, 0)).toBe(
        dressed.inks.reduce((sum, { uses }) => sum + uses, 0),
      );
      return {
        fills: [1, 2, 3, 4].map((k) => fills.get(`panel-${k}`)),
        inks: shown.inks.map((one) => one.ink),
      };
    };
    expect(paint("Dusk").fills).toEqual([other, "#aa0000", "#aa0000", "#aa0000"]);
    expect(paint("Dusk").inks).toEqual([other, "#aa0000", "#e8d9b5"]);
    expect(paint("Dawn").fills).toEqual([other, other, other, other]);
  });

  it("recoloured by tables of their own, prints that share motifs equal the recoloured prints dressed", () => {
    const [dusk, own] = [
      colourway("Dusk", { [HEM_INK]: "#442211", "#c8553d": "#e3c16f" }),
      colourway("Dusk", { "#1b2a41": "#00aa88", "#c8553d": "#004488", "#f2ead8": "#101010" }),
    ];
    const [border, companion] = [shoreBorder(), hookHalfDrop()];
    const panelsOf = (print: Print, table: PanelOptions["colourways"]): readonly PanelOptions[] => [
      { panel: "#skirt-front", band: "hem", drape: true },
      { panel: "#bodice", print, ...(table ? { colourways: table } : {}) },
      { panel: "#sleeve-left", print, drape: true },
      { panel: "#sleeve-right" },
    ];
    const once = recolourDressed(
      dress(wrapDress(), border, { scale: SCALE, panels: panelsOf(companion, [own]) }),
      dusk,
    );
    const again = dress(wrapDress(), recolour(border, dusk), {
      scale: SCALE,
      panels: panelsOf(recolour(companion, own), undefined),
    });
    const [one, other] = [once, again].map((dressed) => renderPixels(writeDressed(dressed), 300));
    expect(one?.data).toEqual(other?.data);
    expect(new Set(once.inks.map(({ ink }) => ink))).toEqual(new Set(again.inks.map(({ ink }) => ink)));
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

  it("refuses a scale at which nobody could see the print", () => {
    const panels: readonly PanelOptions[] = [{ panel: "#skirt-front" }];
    const far = { of: "#length-line", is: "9km" } as const;
    expect(() => dress(wrapDress(), hookHalfDrop(), { scale: far, panels })).toThrow(refused("E_UNIT"));
    expect(() => dress(wrapDress(), hookHalfDrop(), { scale: { ...far, is: "9000m" }, panels })).toThrow(
      refused("E_LIMIT"),
    );
  });
});
