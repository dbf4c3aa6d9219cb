import { compose, translation } from "../geometry/affine.js";
import { type Box, mapBox } from "../geometry/box.js";
import type { Motif } from "../motif/types.js";
import { isNear, keepSeen } from "../svg/index.js";
import type { MotifCopy } from "./layers.js";

/** What of a motif shows in a canvas where a copy of it stands; the same motif where nothing of it lies far outside. */
export function seenMotif(motif: Motif, { map, station, shift }: MotifCopy, canvas: Box): Motif {
  const whole = compose(translation(station.x + shift.x, station.y + shift.y), map);
  if (isNear(mapBox(whole, motif.reach), canvas)) return motif;
  const body = keepSeen(motif.body, motif.defs, { map: whole, canvas });
  return body === motif.body ? motif : { ...motif, body };
}
