import { check, maybe, oneOf, partsOf } from "../../checks.js";
import { RepetendError } from "../../errors.js";
import { compose, scaling, translation, turning } from "../../geometry/affine.js";
import { mapBox } from "../../geometry/box.js";
import { aMotif } from "../../motif/checks.js";
import type { Motif } from "../../motif/types.js";
import { type Length, mm } from "../../units/index.js";
import type { Placement } from "../types.js";

/** Where and how a motif is placed. */
export interface PlaceOptions {
  /** Where the centre of the motif's own frame goes: along the cloth, then across it. */
  readonly at: readonly [Length, Length];
  /** Placed width of the motif's frame, more than 0; the height follows. Default: its natural width. */
  readonly width?: Length;
  /** Degrees, clockwise on the page. Default 0. */
  readonly turn?: number;
  /** Mirrors left and right ("x"), top and bottom ("y") or both, before turning. Default: none. */
  readonly flip?: "x" | "y" | "xy";
}

/** In mm: as far as numbers in a drawing may go. */
const FARTHEST = 1e6;

const placeOptions = partsOf<PlaceOptions>({
  at: check(
    (value) => Array.isArray(value) && value.length === 2,
    "two lengths, along the cloth and across it",
  ),
  flip: maybe(oneOf("x", "y", "xy")),
});

/**
 * Places a motif: the centre of its frame at a point, scaled to a width, mirrored, then turned about that point.
 * Lengths in mm or with their unit; the point counts from the origin of the print, or of the band that holds it.
 *
 * @throws {@link RepetendError} `E_UNIT` or `E_NUMBER` for a length or an angle that cannot be read or passes 1 km, `E_SIZE` for a
 * width that is not more than 0.
 * @example
 * ```ts
 * import { motif, place } from "repetend";
 * const dot = motif('<svg xmlns="http://www.w3.org/2000/svg" width="2cm" height="2cm" viewBox="0 0 2 2">' +
 *   '<circle cx="1" cy="1" r="0.8" fill="#c8553d"/></svg>', { name: "dot" });
 * place(dot, { at: ["4cm", "6cm"], width: "1cm", turn: 20, flip: "x" }).map.e; // about 35
 * ```
 */
export function place(motif: Motif, options: PlaceOptions): Placement {
  aMotif(motif, "motif");
  placeOptions(options, "options");
  const { viewBox } = motif;
  const width = options.width === undefined ? motif.width : mm(options.width);
  if (!(width > 0)) {
    throw new RepetendError("E_SIZE", "a motif is placed at a width of more than 0", {
      input: motif.name,
      where: "width",
      value: String(options.width),
      accepted: "a length above 0",
    });
  }
  const turn = options.turn ?? 0;
  if (!Number.isFinite(turn)) {
    throw new RepetendError("E_NUMBER", "a motif is turned by a finite angle", {
      input: motif.name,
      where: "turn",
      value: String(turn),
      accepted: "degrees, clockwise",
    });
  }
  const far = [width, ...options.at.map(mm)].find((length) => Math.abs(length) > FARTHEST);
  if (far !== undefined) {
    throw new RepetendError("E_NUMBER", "a motif is placed farther off, or larger, than any cloth", {
      input: motif.name,
      value: `${far} mm`,
      accepted: `at most ${FARTHEST} mm`,
    });
  }
  const scale = width / viewBox.width;
  const flip = options.flip ?? "";
  const map = compose(
    translation(mm(options.at[0]), mm(options.at[1])),
    turning((turn * Math.PI) / 180),
    scaling(flip.includes("x") ? -scale : scale, flip.includes("y") ? -scale : scale),
    translation(-(viewBox.x + viewBox.width / 2), -(viewBox.y + viewBox.height / 2)),
  );
  return placed(motif, map);
}

/** A motif under any map from its user units to mm. */
export function placed(motif: Motif, map: Placement["map"]): Placement {
  return { kind: "placement", motif, map, reach: mapBox(map, motif.reach) };
}
