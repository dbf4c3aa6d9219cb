import { RepetendError } from "../../errors.js";
import { type Affine, compose, IDENTITY, translation } from "../../geometry/affine.js";
import { type Box, boxOverlap, growBox, mapBox } from "../../geometry/box.js";
import type { CubicPath } from "../../geometry/cubic-path.js";
import { pathBounds } from "../../geometry/path-bounds.js";
import type { SmoothMap } from "../../geometry/smooth-map.js";
import type { Motif } from "../../motif/types.js";
import { drawLayers, layersInWindow, type MotifCopy } from "../../repeat/index.js";
import type { Print } from "../../repeat/types.js";
import { element, type SvgElement, writeMatrix } from "../../svg/index.js";
import { type Approximation, type Definitions, Draper } from "./draper.js";
import { boxPath } from "./servers.js";

/** A print as it lies on a panel: what it paints, in user units of the sketch, and what that refers to. */
export interface PanelDrawing {
  readonly defs: readonly SvgElement[];
  readonly body: readonly SvgElement[];
  /** What was drawn by its best affine fit. */
  readonly approximations: readonly Approximation[];
  /** The largest miss of a mapped path, in user units of the sketch. */
  readonly worst: number;
}

/** What drawings of one document share. */
export interface DrawingFrame {
  /** The panel's name, for refusals. */
  readonly name: string;
  /** Digits after the point for user units of the sketch. */
  readonly digits: number;
  /** How far a mapped path may lie off, in user units of the sketch. */
  readonly tolerance: number;
  /** Prefix of the ids of one print. */
  readonly printScope: string;
  /** Prefix of the ids of one panel. */
  readonly panelScope: string;
}

/** Digits of a mm of the print: a tenth of a micrometre. */
const PRINT_DIGITS = 4;
/** Grounds and copies reach this far beyond the panel, in mm, so that its edge is cut by the panel alone. */
const BLEED = 2;

/**
 * Copies of motifs in one panel. More are no print that anybody could see on a page, but a scale that is off by a
 * factor, and a drawing that no renderer finishes. Draped copies are drawn one by one.
 */
const MOST_COPIES = { flat: 200_000, draped: 20_000 } as const;

function checkCopies(print: Print, window: Box, how: keyof typeof MOST_COPIES, where: string): void {
  const copies =
    print.kind === "border"
      ? (window.width / print.repeat) *
        print.bands.reduce((sum, band) => sum + band.count * band.motifs.length, 0)
      : ((window.width * window.height) / (print.width * print.height)) * print.motifs.length;
  if (copies <= MOST_COPIES[how]) return;
  throw new RepetendError("E_LIMIT", "a panel holds too many copies of the print's motifs", {
    where,
    value: String(Math.round(copies)),
    accepted: `at most ${MOST_COPIES[how]}; is the scale of the sketch right?`,
  });
}

/** Draws a print that lies flat on a panel; `mirror` says what is done to the drawing afterwards. */
export function drawFlat(
  print: Print,
  map: Affine,
  outline: CubicPath,
  back: Affine,
  frame: DrawingFrame,
  mirror: Affine = IDENTITY,
): PanelDrawing {
  const bounds = pathBounds(outline);
  const window = growBox(mapBox(back, bounds ?? { x: 0, y: 0, width: 0, height: 0 }), BLEED);
  checkCopies(print, window, "flat", frame.name);
  const drawn = drawLayers(layersInWindow(print, window), {
    window,
    digits: PRINT_DIGITS,
    scope: frame.printScope,
    onto: compose(mirror, map),
  });
  const transform = writeMatrix(compose(map, translation(window.x, window.y)), frame.digits + 1);
  const rename = (one: SvgElement): SvgElement => renameClips(one, frame);
  const body = element("g", transform === "" ? {} : { transform }, drawn.body.map(rename));
  return { defs: drawn.defs.map(rename), body: [body], approximations: [], worst: 0 };
}

/** Clips of a print count from 1 in each panel; motifs are shared by all panels of the print. */
function renameClips(one: SvgElement, { printScope, panelScope }: DrawingFrame): SvgElement {
  const own = `${printScope}clip-`;
  const { id, "clip-path": clip } = one.attributes;
  const attributes = {
    ...one.attributes,
    ...(id?.startsWith(own) ? { id: id.replace(own, `${panelScope}clip-`) } : {}),
    ...(clip?.startsWith(`url(#${own}`) ? { "clip-path": clip.replace(own, `${panelScope}clip-`) } : {}),
  };
  return { ...one, attributes };
}

/** Draws a print that follows a panel: every path is mapped. */
export function drawDraped(
  print: Print,
  map: SmoothMap,
  window: Box,
  outline: CubicPath,
  frame: DrawingFrame,
): PanelDrawing {
  const { tolerance, digits, panelScope } = frame;
  checkCopies(print, window, "draped", frame.name);
  const shown = pathBounds(outline);
  const seen = shown === undefined ? {} : { shown };
  const draper = new Draper({ map, tolerance, digits, scope: `${panelScope}d-`, ...seen });
  // By motif and not by its scope: two colourings of one drawing share the scope.
  const defsOf = new Map<Motif, Definitions>();
  const body = layersInWindow(print, growBox(window, BLEED)).flatMap((layer): readonly SvgElement[] => {
    if (layer.kind === "ground")
      return [element("path", { fill: layer.ink, d: draper.writeMapped(boxPath(layer.box)) })];
    const copies = layer.copies.flatMap((copy): readonly SvgElement[] => {
      const place = placeOf(copy);
      if (shown !== undefined && !mayShow(map, mapBox(place, copy.motif.reach), shown)) return [];
      const { motif } = copy;
      const defs = defsOf.get(motif) ?? new Map(motif.defs.map((one) => [one.attributes.id ?? "", one]));
      defsOf.set(motif, defs);
      return draper.drape(motif.body, place, defs);
    });
    if (layer.clip === undefined || copies.length === 0) return copies;
    const id = draper.nextId();
    draper.defs.push(
      element("clipPath", { id }, [element("path", { d: draper.writeMapped(boxPath(layer.clip)) })]),
    );
    return [element("g", { "clip-path": `url(#${id})` }, copies)];
  });
  return { defs: draper.defs, body, approximations: [...draper.approximations].sort(), worst: draper.worst };
}

function placeOf(copy: MotifCopy): Affine {
  return compose(translation(copy.station.x + copy.shift.x, copy.station.y + copy.shift.y), copy.map);
}

/** Looks along each axis of a copy's reach. */
const LOOKS = 6;

/**
 * Whether a copy may show in the panel: its reach, looked at on a grid, comes near the panel's box. What lies between
 * the looks bulges by far less than their distance, which is added on all sides.
 */
function mayShow(map: SmoothMap, reach: Box, shown: Box): boolean {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i <= LOOKS; i += 1)
    for (let j = 0; j <= LOOKS; j += 1) {
      const { x, y } = map(reach.x + (reach.width * i) / LOOKS, reach.y + (reach.height * j) / LOOKS);
      left = Math.min(left, x);
      right = Math.max(right, x);
      top = Math.min(top, y);
      bottom = Math.max(bottom, y);
    }
  const margin = Math.max(right - left, bottom - top) / LOOKS;
  const box = growBox({ x: left, y: top, width: right - left, height: bottom - top }, margin + 1e-9);
  return boxOverlap(box, shown) !== undefined;
}
