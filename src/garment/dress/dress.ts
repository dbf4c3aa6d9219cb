import { readColour } from "../../colour/index.js";
import { type Note, nameInput, RepetendError } from "../../errors.js";
import { type Affine, compose, IDENTITY, invert } from "../../geometry/affine.js";
import { transformPath } from "../../geometry/cubic-path.js";
import { composeSmooth, smoothAffine } from "../../geometry/smooth-map.js";
import { aPrint } from "../../repeat/checks.js";
import type { Border, Print } from "../../repeat/types.js";
import { element, type SvgElement, writeMatrix } from "../../svg/index.js";
import { mm } from "../../units/index.js";
import { aSketch, dressOptions } from "../checks.js";
import { type DrawingFrame, drawDraped, drawFlat, type PanelDrawing } from "../drape/draw-panel.js";
import type { DressOptions, PanelOptions } from "../options.js";
import { placePanel } from "../place/place-panel.js";
import type { PlacedPanel } from "../place/placed-panel.js";
import { sketchScale } from "../sketch/scale.js";
import { choosePanels, keyOfChoice, nameChoice } from "../sketch/select.js";
import type { Sketch, SketchScale } from "../types.js";
import { measureBeyond, printBounds } from "./cloth-need.js";
import { countInks } from "./count-inks.js";
import type { Dressed, DressedPanel } from "./dressed.js";
import { clipOf, type PanelPrint, splicePanels } from "./splice-panel.js";

/** How far a draped path may lie off its true place, in mm of the page: half of a printed pixel at 600 dpi. */
export const DRAPE_TOLERANCE = 0.02;

/** The share of the tolerance that fitting may use; rounding and what lies between probes get the rest. */
const FITTING = 0.75;

/** Places on the page are written to a thousandth of a mm. */
const PAGE_STEP = 1e-3;

/**
 * Dresses a sketch: lays the print into its panels at true scale, flat or draped, below their outlines and whatever lies
 * above. The rest of the sketch stays as it is. What could not be had (cloth that is too narrow, folds, approximations)
 * stands in `report`; it never stops the work, and nothing is filled in that the cloth does not have.
 *
 * @throws {@link RepetendError} `E_ID` for panels that the sketch does not have or that are chosen twice; `E_BAND` for
 * bands that the print does not have; `E_LAYOUT` for corners, guides, edges and references that make no sense; `E_SIZE`,
 * `E_UNIT`, `E_NUMBER` for lengths and angles; `E_COLOUR` for garment inks; `E_FEATURE` for a filter with a step that
 * cannot be draped; `E_LIMIT` where a panel would hold more than 200,000 copies of motifs, or 20,000 draped ones.
 * @example
 * ```ts
 * import { border, dress, readSketch, writeDressed } from "repetend";
 * const sketch = readSketch('<svg xmlns="http://www.w3.org/2000/svg" width="10cm" height="10cm" viewBox="0 0 100 100">' +
 *   '<path id="skirt" d="M30 10H70V90H30Z" fill="#ffffff" stroke="#222222"/></svg>');
 * const print = border({
 *   name: "Shore", repeat: "12in", width: "58in", ground: "#d7e3e0",
 *   bands: [{ name: "hem", from: "50in", to: "58in", ground: "#1b2a41", motifs: [] }],
 * });
 * const dressed = dress(sketch, print, {
 *   scale: { of: "#skirt", is: "52in" },
 *   panels: [{ panel: "#skirt", band: "hem", edge: "bottom" }],
 * });
 * dressed.report.says; // "The sketch is drawn 1 to 16.5. The cloth is 147.3 cm (58 in) wide, the garment spans 132.1 cm (52 in): 15.2 cm (6 in) are left."
 * writeDressed(dressed).startsWith("<svg"); // true
 * ```
 */
export function dress(sketch: Sketch, print: Print, options: DressOptions): Dressed {
  aSketch(sketch, "sketch");
  aPrint(print, "print");
  dressOptions(options, "options");
  const scale = sketchScale(sketch, options.scale);
  const placed = placeAll(sketch, print, scale, options.panels);
  const clothWidth = options.clothWidth === undefined ? undefined : mm(options.clothWidth);
  const pageUnit = sketch.width / sketch.viewBox.width;
  const digits = Math.max(0, Math.ceil(Math.log10(pageUnit / PAGE_STEP)));
  const prints = [...new Set([print, ...placed.map((panel) => panel.print)])];

  const defs = new Map<string, SvgElement>();
  const spliced: PanelPrint[] = [];
  const reports: DressedPanel[] = [];
  const notes: Note[] = placed.flatMap((panel) => panel.notes);
  for (const [index, panel] of placed.entries()) {
    const id = idOfPanel(index);
    const frame: DrawingFrame = {
      name: panel.name,
      digits,
      tolerance: (FITTING * DRAPE_TOLERANCE) / pageUnit,
      printScope: scopeOfPrint(prints.indexOf(panel.print)),
      panelScope: `${id}-`,
    };
    const drawing = drawPanel(panel, frame);
    for (const one of [clipOf(id, panel.shape, digits), ...drawing.defs])
      defs.set(one.attributes.id ?? "", one);
    const beyond = measureBeyond(panel, clothWidth);
    notes.push(...notesOf(panel, beyond, drawing, pageUnit));
    spliced.push({
      shape: panel.shape,
      id,
      body: drawing.body,
      covers: panel.print.ground !== undefined && beyond.every(({ selvedge }) => selvedge === "either"),
    });
    reports.push({
      panel: panel.name,
      print: panel.print.name,
      how: panel.draped === undefined ? "flat" : "draped",
      mirrored: panel.mirrored,
      takes: printBounds(panel) ?? { x: 0, y: 0, width: 0, height: 0 },
      grain: degreesOf(panel),
      beyond,
      gathers: panel.draped?.gathers,
      off: drawing.worst * pageUnit,
    });
  }
  const garmentInks = (options.garmentInks ?? []).map((ink) => readColour(ink).hex);
  const { name, viewBox, width, height } = sketch;
  const body = splicePanels(sketch.body, spliced, digits);
  const worn = prints.map((one, k) => ({
    name: one.name,
    colourways: options.panels.find((panel) => (panel.print ?? print) === one && panel.colourways)
      ?.colourways,
    scopes: [
      scopeOfPrint(k),
      ...placed.flatMap((panel, at) => (panel.print === one ? [`${idOfPanel(at)}-`] : [])),
    ],
  }));
  const counted = countInks(body, sketch.defs, [...defs.values()], garmentInks, worn);
  return {
    kind: "dressed",
    name,
    viewBox,
    width,
    height,
    sketchDefs: sketch.defs,
    printDefs: [...defs.values()],
    body,
    prints: worn.map((one, k) => ({ ...one, inks: counted.prints[k] ?? [] })),
    inks: counted.all,
    garmentInks,
    report: { scale, ...describeScale(scale, print), panels: reports, notes },
  };
}

const idOfPanel = (index: number): string => `panel-${index + 1}`;

const scopeOfPrint = (index: number): string => `print-${index + 1}-`;

function placeAll(
  sketch: Sketch,
  print: Print,
  scale: SketchScale,
  all: readonly PanelOptions[],
): readonly PlacedPanel[] {
  const placed: PlacedPanel[] = [];
  const earlier = new Map<string, readonly PlacedPanel[]>();
  const taken = new Map<string, string>();
  for (const options of all) {
    const choice = nameChoice(options.panel);
    const shapes = choosePanels(sketch, options.panel);
    const here = shapes.map((shape, index): PlacedPanel => {
      const name = shapes.length === 1 ? choice : `${choice} (${index + 1})`;
      const address = shape.address.join(".");
      const before = taken.get(address);
      if (before !== undefined)
        throw new RepetendError("E_ID", `a panel is dressed twice, first as ${before}`, { where: name });
      taken.set(address, name);
      return placePanel({ sketch, scale, earlier }, name, shape, index, options.print ?? print, options);
    });
    const key = keyOfChoice(options.panel);
    earlier.set(key, [...(earlier.get(key) ?? []), ...here]);
    placed.push(...here);
  }
  return placed;
}

function drawPanel(panel: PlacedPanel, frame: DrawingFrame): PanelDrawing {
  const { mirror, print, draped, flat } = panel;
  if (flat !== undefined) {
    const back = mirror === undefined ? undefined : invert(mirror);
    const outline = back ? transformPath(panel.shape.outline, back) : panel.shape.outline;
    const toPrint = invert(flat);
    if (toPrint === undefined)
      throw new RepetendError("E_SIZE", "a panel without an extent", { where: panel.name });
    const drawing = drawFlat(print, flat, outline, toPrint, frame, mirror);
    return { ...drawing, body: mirrorBody(drawing.body, mirror, frame.digits) };
  }
  if (draped === undefined) return { defs: [], body: [], approximations: [], worst: 0 };
  // Mirrored in the map itself: renderers do not agree on what a mirrored group does to a filter inside of it.
  const toSketch = compose(mirror ?? IDENTITY, panel.frame.toSketch);
  const map = composeSmooth(smoothAffine(toSketch), draped.map);
  try {
    return drawDraped(print, map, draped.window, panel.shape.outline, frame);
  } catch (error) {
    throw nameInput(error, panel.name);
  }
}

function mirrorBody(
  body: readonly SvgElement[],
  mirror: Affine | undefined,
  digits: number,
): readonly SvgElement[] {
  if (mirror === undefined) return body;
  return [element("g", { transform: writeMatrix(compose(mirror), digits + 3) }, body)];
}

function degreesOf({ frame, mirror }: PlacedPanel): number {
  const degrees = (frame.turn * 180) / Math.PI;
  return mirror === undefined || degrees === 0 ? degrees : -degrees;
}

function notesOf(
  panel: PlacedPanel,
  beyond: readonly { readonly selvedge: string; readonly by: number }[],
  drawing: PanelDrawing,
  pageUnit: number,
): readonly Note[] {
  const where = panel.name;
  const needs = beyond.map(({ selvedge, by }): Note => {
    const place = selvedge === "either" ? "wider than the cloth" : `beyond the ${selvedge} selvedge`;
    const message = `the panel needs ${(by / 10).toFixed(1)} cm ${place}`;
    return { level: "warning", code: "N_CLOTH", where, message };
  });
  const fits = drawing.approximations.map((kind): Note => {
    const message = `a ${kind} is draped by its best affine fit, shape by shape`;
    return { level: "info", code: "N_APPROXIMATE", where, message };
  });
  const off = drawing.worst * pageUnit;
  const coarse: readonly Note[] =
    off <= DRAPE_TOLERANCE
      ? []
      : [
          {
            level: "warning",
            code: "N_DRAPE",
            where,
            message: `a path lies off its place by ${off.toFixed(3)} mm`,
          },
        ];
  return [...needs, ...fits, ...coarse];
}

/** As both halves of the trade say it. */
const bothWays = (length: number): string =>
  `${Number((length / 10).toFixed(1))} cm (${Number((length / 25.4).toFixed(2))} in)`;

/** What the scale means: how the garment's length lies to the cloth's width. */
function describeScale(
  scale: SketchScale,
  print: Print,
): { readonly says: string; readonly spare: number | undefined } {
  const drawn = `The sketch is drawn 1 to ${Number(scale.ratio.toFixed(1))}.`;
  if (print.kind !== "border") return { says: drawn, spare: undefined };
  const spare = spareOf(print, scale);
  const left = spare >= 0 ? `${bothWays(spare)} are left` : `${bothWays(-spare)} are missing`;
  const cloth = `The cloth is ${bothWays(print.width)} wide, the garment spans ${bothWays(scale.span)}: ${left}.`;
  return { says: `${drawn} ${cloth}`, spare };
}

function spareOf(print: Border, scale: SketchScale): number {
  return print.width - scale.span;
}
