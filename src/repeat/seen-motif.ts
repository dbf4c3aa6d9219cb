import { type Affine, compose, translation } from "../geometry/affine.js";
import { type Box, mapBox } from "../geometry/box.js";
import type { Motif } from "../motif/types.js";
import { element, hasLayers, isNear, keepSeen, layersBox, nestedOverhang } from "../svg/index.js";
import { layersInWindow, type MotifCopy, type MotifLayer } from "./layers.js";
import type { Print } from "./types.js";

/** What of motifs shows in a canvas, wherever copies of them stand. */
export class SeenMotifs {
  readonly #canvas: Box;
  /** Around what a motif's groups hold; `undefined` where no group asks for care. */
  readonly #boxes = new Map<Motif, Box | undefined>();

  constructor(canvas: Box) {
    this.#canvas = canvas;
  }

  /** Whether nothing of a copy can be too far outside. */
  isNear(motif: Motif, copy: Omit<MotifCopy, "motif">): boolean {
    if (!this.#boxes.has(motif)) this.#boxes.set(motif, layersBox(motif));
    const box = this.#boxes.get(motif);
    return box === undefined || isNear(mapBox(wholeMap(copy), box), this.#canvas);
  }

  /** The same motif where nothing of it lies far outside. */
  find(motif: Motif, copy: Omit<MotifCopy, "motif">): Motif {
    if (this.isNear(motif, copy)) return motif;
    const { body, defs } = keepSeen(motif, { map: wholeMap(copy), canvas: this.#canvas });
    return body === motif.body && defs === motif.defs ? motif : { ...motif, body, defs };
  }
}

const wholeMap = ({ map, station, shift }: Omit<MotifCopy, "motif">): Affine =>
  compose(translation(station.x + shift.x, station.y + shift.y), map);

/**
 * How far groups in which a renderer would lose something leave a canvas to the left and to the top; see
 * `nestedOverhang`. A band that cuts is such a group, too.
 */
export function overhangOf(
  print: Print,
  canvas: Box,
  window: Box,
): { readonly x: number; readonly y: number } {
  const layers = layersInWindow(print, canvas, window).filter((layer) => layer.kind === "motifs");
  const seen = new SeenMotifs(canvas);
  const found = layers.flatMap((layer) => overhangsIn(layer, canvas, seen));
  return { x: Math.max(0, ...found.map(({ x }) => x)), y: Math.max(0, ...found.map(({ y }) => y)) };
}

function overhangsIn(
  { copies, clip }: MotifLayer,
  canvas: Box,
  seen: SeenMotifs,
): readonly { x: number; y: number }[] {
  const isCut = clip !== undefined && copies.some(({ motif }) => motif.body.some(hasLayers));
  return copies.flatMap((copy) => {
    const map = wholeMap(copy);
    const { motif } = copy;
    if (
      isCut ? isNear(mapBox(map, motif.reach), canvas) && seen.isNear(motif, copy) : seen.isNear(motif, copy)
    )
      return [];
    const { body, defs } = seen.find(motif, copy);
    const band = [element("g", { opacity: "0" }, [element("g", { opacity: "0" }, body)])];
    return [nestedOverhang(isCut ? band : body, defs, { map, canvas })];
  });
}
