import { type Affine, compose, translation } from "../../geometry/affine.js";
import { type Box, boxHolds, mapBox } from "../../geometry/box.js";
import type { Motif } from "../../motif/types.js";
import {
  element,
  hasHiddenLayers,
  hasLayers,
  isNear,
  keepSeen,
  layersBox,
  leaveOut,
  nestedOverhang,
} from "../../svg/index.js";
import type { Print } from "../types.js";
import { layersInWindow, type MotifCopy, type MotifLayer } from "./layers.js";

/** Where motifs are rendered: what is kept of it, and all of it. */
export interface ShownIn {
  readonly window: Box;
  readonly canvas: Box;
}

/** What of motifs shows in a window, wherever copies of them stand. */
export class SeenMotifs {
  readonly #shown: ShownIn;
  /** Around what a motif's groups hold; `undefined` where no group asks for care. */
  readonly #boxes = new Map<Motif, Box | undefined>();
  readonly #hiding = new Map<Motif, boolean>();

  constructor(shown: ShownIn) {
    this.#shown = shown;
  }

  /** Whether nothing of a copy can be too far outside. */
  isNear(motif: Motif, copy: Omit<MotifCopy, "motif">): boolean {
    if (!this.#boxes.has(motif)) this.#boxes.set(motif, layersBox(motif));
    const box = this.#boxes.get(motif);
    return box === undefined || isNear(mapBox(wholeMap(copy), box), this.#shown.canvas);
  }

  /** Whether masks or patterns of a motif hold what may lie anywhere, however near the motif is. */
  hidesLayers(motif: Motif): boolean {
    const known = this.#hiding.get(motif) ?? hasHiddenLayers(motif.defs);
    this.#hiding.set(motif, known);
    return known;
  }

  /** The same motif where all of it shows; `undefined` where nothing does. */
  find(motif: Motif, copy: Omit<MotifCopy, "motif">): Motif | undefined {
    const map = wholeMap(copy);
    const { canvas, window } = this.#shown;
    if (!this.isNear(motif, copy)) {
      const { body, defs } = keepSeen(motif, { map, canvas });
      return body === motif.body && defs === motif.defs ? motif : { ...motif, body, defs };
    }
    if (boxHolds(window, mapBox(map, motif.reach))) return motif;
    const body = leaveOut(motif, motif.boxes, { map, window });
    if (body === motif.body) return motif;
    return body.length === 0 ? undefined : { ...motif, body };
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
  const seen = new SeenMotifs({ window, canvas });
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
    const isClose = seen.isNear(motif, copy) && (!isCut || isNear(mapBox(map, motif.reach), canvas));
    if (isClose && !seen.hidesLayers(motif)) return [];
    const found = seen.find(motif, copy);
    if (found === undefined) return [];
    const { body, defs } = found;
    const band = [element("g", { opacity: "0" }, [element("g", { opacity: "0" }, body)])];
    return [nestedOverhang(isCut && !isClose ? band : body, defs, { map, canvas })];
  });
}
