import { type Affine, compose, translation } from "../geometry/affine.js";
import { type Box, mapBox } from "../geometry/box.js";
import type { Motif } from "../motif/types.js";
import { element, hasLayers, isNear, keepSeen, nestedOverhang } from "../svg/index.js";
import { layersInWindow, type MotifCopy, type MotifLayer } from "./layers.js";
import type { Print } from "./types.js";

/** What of a motif shows in a canvas where a copy of it stands; the same motif where nothing of it lies far outside. */
export function seenMotif(motif: Motif, { map, station, shift }: MotifCopy, canvas: Box): Motif {
  const whole = wholeMap({ map, station, shift });
  if (isNear(mapBox(whole, motif.reach), canvas)) return motif;
  const body = keepSeen(motif.body, motif.defs, { map: whole, canvas });
  return body === motif.body ? motif : { ...motif, body };
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
  const found = layers.flatMap((layer) => overhangsIn(layer, canvas));
  return { x: Math.max(0, ...found.map(({ x }) => x)), y: Math.max(0, ...found.map(({ y }) => y)) };
}

function overhangsIn({ copies, clip }: MotifLayer, canvas: Box): readonly { x: number; y: number }[] {
  const isCut = clip !== undefined && copies.some(({ motif }) => motif.body.some(hasLayers));
  return copies.flatMap((copy) => {
    const map = wholeMap(copy);
    if (isNear(mapBox(map, copy.motif.reach), canvas)) return [];
    const { body, defs } = seenMotif(copy.motif, copy, canvas);
    const band = [element("g", { opacity: "0" }, [element("g", { opacity: "0" }, body)])];
    return [nestedOverhang(isCut ? band : body, defs, { map, canvas })];
  });
}
