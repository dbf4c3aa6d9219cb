import type { Box } from "../geometry/box.js";
import type { Motif } from "../motif/types.js";
import { element, type SvgElement, scopeIds, writeNumber } from "../svg/index.js";
import type { Layer, MotifCopy, MotifLayer } from "./layers.js";

/** How layers are written. */
export interface DrawOptions {
  /** The window's corner becomes 0,0. */
  readonly window: Box;
  /** Digits after the point for places. */
  readonly digits: number;
  /** Put before every id, so that several drawings can share one document. Default: nothing. */
  readonly scope?: string;
}

/** What goes into `defs`, and what is painted. */
export interface DrawnLayers {
  readonly defs: readonly SvgElement[];
  readonly body: readonly SvgElement[];
}

/** Scale and turn are kept finer than places: a drawing of 10,000 units still lands within a ten-thousandth. */
const LINEAR_DIGITS = 9;

const roundTo = (value: number, digits: number): number => Math.round(value * 10 ** digits) / 10 ** digits;

/**
 * A copy's place. It is rounded inside the first rectangle and moved by whole rectangles after that, so that the copies
 * at both edges of a tile come from the same numbers.
 */
function placeCopy(copy: MotifCopy, { window, digits }: DrawOptions): string {
  const { map, station, shift } = copy;
  const e = roundTo(map.e + station.x, digits) + shift.x - window.x;
  const f = roundTo(map.f + station.y, digits) + shift.y - window.y;
  const linear = [map.a, map.b, map.c, map.d].map((value) => writeNumber(value, LINEAR_DIGITS));
  return `matrix(${[...linear, writeNumber(e, digits), writeNumber(f, digits)].join(" ")})`;
}

function boxAttributes(box: Box, { window, digits }: DrawOptions): Record<string, string> {
  const left = writeNumber(box.x - window.x, digits);
  const top = writeNumber(box.y - window.y, digits);
  return { x: left, y: top, width: writeNumber(box.width, digits), height: writeNumber(box.height, digits) };
}

/** Writes layers as SVG elements: each motif once in `defs`, each copy as a reference to it. */
export function drawLayers(layers: readonly Layer[], options: DrawOptions): DrawnLayers {
  const scope = options.scope ?? "";
  const motifs = new Map<string, Motif>();
  const clips: SvgElement[] = [];

  const drawCopy = (copy: MotifCopy): SvgElement => {
    motifs.set(copy.motif.scope, copy.motif);
    return element("use", { href: `#${scope}${copy.motif.scope}`, transform: placeCopy(copy, options) });
  };
  const drawMotifs = (layer: MotifLayer): readonly SvgElement[] => {
    const copies = layer.copies.map(drawCopy);
    if (layer.clip === undefined) return copies;
    const id = `${scope}clip-${clips.length + 1}`;
    clips.push(element("clipPath", { id }, [element("rect", boxAttributes(layer.clip, options))]));
    return [element("g", { "clip-path": `url(#${id})` }, copies)];
  };
  const body = layers.flatMap((layer) =>
    layer.kind === "ground"
      ? [element("rect", { ...boxAttributes(layer.box, options), fill: layer.ink })]
      : drawMotifs(layer),
  );
  const used = [...motifs.values()];
  const scopeMotif = (elements: readonly SvgElement[]) =>
    scope === "" ? elements : scopeIds(elements, scope);
  const defs = [
    ...used.flatMap((motif) => scopeMotif(motif.defs)),
    ...used.map((motif) => element("g", { id: `${scope}${motif.scope}` }, scopeMotif(motif.body))),
    ...clips,
  ];
  return { defs, body };
}
