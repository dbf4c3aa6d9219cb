import { aNumber, anObject, listOf, made, maybe, partsOf } from "../../checks.js";
import type { Affine } from "../../geometry/affine.js";
import type { Box } from "../../geometry/box.js";
import type { Motif } from "../../motif/types.js";
import { aScope } from "../../svg/checks.js";
import { element, type SvgElement, scopeElements, writeNumber } from "../../svg/index.js";
import { aBox } from "../checks.js";
import type { Layer, MotifCopy, MotifLayer } from "./layers.js";
import { SeenMotifs } from "./seen-motif.js";
import { UprightMotifs } from "./upright-motifs.js";

/** How layers are written. */
export interface DrawOptions {
  /** The window's corner becomes 0,0. */
  readonly window: Box;
  /** Digits after the point for places. */
  readonly digits: number;
  /** Put before every id, so that several drawings can share one document. Default: nothing. */
  readonly scope?: string;
  /** How the drawing is turned or mirrored where it goes: filters are made for that. Default: not at all. */
  readonly onto?: Affine;
  /** The part of the window that is kept, for renderers: what does not show in it is left out. Default: all is drawn. */
  readonly shown?: Box;
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

const drawOptions = partsOf<DrawOptions>({
  window: aBox,
  digits: aNumber,
  scope: maybe(aScope),
  onto: maybe(anObject),
  shown: maybe(aBox),
});

/** Writes layers as SVG elements: each motif once in `defs`, each copy as a reference to it. */
export function drawLayers(layers: readonly Layer[], options: DrawOptions): DrawnLayers {
  listOf(made("a layer, from layersInWindow()", "ground", "motifs"))(layers, "layers");
  drawOptions(options, "options");
  const scope = options.scope ?? "";
  const motifs = new MotifNames(scope);
  const clips: SvgElement[] = [];
  const upright = new UprightMotifs(options.onto);
  const { window, shown } = options;
  const seen = shown === undefined ? undefined : new SeenMotifs({ window: shown, canvas: window });

  const drawCopy = (copy: MotifCopy): readonly SvgElement[] => {
    const whole = upright.find(copy);
    const motif = seen === undefined ? whole : seen.find(whole, copy);
    if (motif === undefined) return [];
    const href = `#${motifs.prefixOf(motif)}${motif.scope}`;
    return [element("use", { href, transform: placeCopy(copy, options) })];
  };
  const drawMotifs = (layer: MotifLayer): readonly SvgElement[] => {
    const copies = layer.copies.flatMap(drawCopy);
    if (layer.clip === undefined || copies.length === 0) return copies;
    const id = `${scope}clip-${clips.length + 1}`;
    clips.push(element("clipPath", { id }, [element("rect", boxAttributes(layer.clip, options))]));
    return [element("g", { "clip-path": `url(#${id})` }, copies)];
  };
  const body = layers.flatMap((layer) =>
    layer.kind === "ground"
      ? [element("rect", { ...boxAttributes(layer.box, options), fill: layer.ink })]
      : drawMotifs(layer),
  );
  const used = motifs.list();
  // Where nothing is defined there are no ids but the motif's own.
  const scopeMotif = ({ defs }: Motif, elements: readonly SvgElement[], prefix: string) =>
    prefix === "" || defs.length === 0 ? elements : scopeElements(elements, prefix);
  const defs = [
    ...used.flatMap(([motif, prefix]) => scopeMotif(motif, motif.defs, prefix)),
    ...used.map(([motif, prefix]) =>
      element("g", { id: `${prefix}${motif.scope}` }, scopeMotif(motif, motif.body, prefix)),
    ),
    ...clips,
  ];
  return { defs, body };
}

/** Tells motifs of one scope apart: the same drawing may stand in a print in two colourings, or cut and not cut. */
class MotifNames {
  readonly #scope: string;
  readonly #prefixes = new Map<Motif, string>();
  /** Every motif that was asked for, those that are drawn as another too. */
  readonly #known = new Map<Motif, string>();
  /** What was met of each scope: its first motif, and every drawing as text once there is a second. */
  readonly #variants = new Map<string, { readonly first: Motif; readonly byText: Map<string, Motif> }>();

  constructor(scope: string) {
    this.#scope = scope;
  }

  /** What goes before the ids of a motif. */
  prefixOf(motif: Motif): string {
    const prefix = this.#known.get(motif) ?? this.#findPrefix(motif);
    this.#known.set(motif, prefix);
    return prefix;
  }

  #findPrefix(motif: Motif): string {
    const met = this.#variants.get(motif.scope);
    if (met === undefined) {
      this.#variants.set(motif.scope, { first: motif, byText: new Map() });
      this.#prefixes.set(motif, this.#scope);
      return this.#scope;
    }
    const { first, byText } = met;
    if (byText.size === 0) byText.set(textOf(first), first);
    const text = textOf(motif);
    const same = byText.get(text);
    if (same !== undefined) return this.#prefixes.get(same) ?? this.#scope;
    const prefix = `${this.#scope}v${byText.size + 1}-`;
    byText.set(text, motif);
    this.#prefixes.set(motif, prefix);
    return prefix;
  }

  /** Every motif once, with its prefix, in the order in which they were met. */
  list(): readonly (readonly [Motif, string])[] {
    return [...this.#prefixes];
  }
}

/** Two motifs draw alike where this is the same. */
const textOf = ({ defs, body }: Motif): string => JSON.stringify([defs, body]);
