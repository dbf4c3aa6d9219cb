import { aNumber } from "../../checks.js";
import { compose, scaling, translation } from "../../geometry/affine.js";
import type { Band, Placement } from "../types.js";
import { placed } from "./place.js";

/** Two periods closer than this part of each other are the same: 1e-9 of a 1 m repeat is a millionth of a mm. */
const SAME_PERIOD = 1e-9;

/** A period fitted to a repeat: whole count, the period that results, and its change in per cent. */
export interface PeriodFit {
  readonly count: number;
  readonly period: number;
  readonly change: number;
}

/** The nearest whole count of a period in a repeat, at least one. Lengths in mm. */
export function fitPeriod(repeat: number, asked: number): PeriodFit {
  aNumber(repeat, "repeat");
  aNumber(asked, "asked");
  const below = Math.max(1, Math.floor(repeat / asked));
  // Nearest by the size of the change, not by the count: 1.45 periods need +45 % as one and -27 % as two.
  const change = (count: number) => Math.abs(Math.log(repeat / count / asked));
  const count = change(below) <= change(below + 1) ? below : below + 1;
  const period = repeat / count;
  const ratio = period / asked;
  return Math.abs(ratio - 1) < SAME_PERIOD
    ? { count, period, change: 0 }
    : { count, period, change: (ratio - 1) * 100 };
}

/**
 * Fits a band's placements to its new period: "scale" enlarges the drawing about the band's middle line, so that it
 * stays centred and in proportion; "space" only moves the motifs apart or together. `middle` is in mm of the border.
 */
export function fitPlacements(
  motifs: readonly Placement[],
  by: Band["fit"]["by"],
  ratio: number,
  middle: number,
): readonly Placement[] {
  switch (by) {
    case "none":
      return motifs;
    case "scale": {
      const map = compose(translation(0, middle), scaling(ratio), translation(0, -middle));
      return motifs.map((placement) => placed(placement.motif, compose(map, placement.map)));
    }
    case "space":
      return motifs.map((placement) => {
        const centre = frameCentreX(placement);
        return placed(placement.motif, compose(translation(centre * (ratio - 1), 0), placement.map));
      });
  }
}

/** Where the centre of a placed motif's frame lies along the cloth. */
function frameCentreX({ motif, map }: Placement): number {
  const x = motif.viewBox.x + motif.viewBox.width / 2;
  const y = motif.viewBox.y + motif.viewBox.height / 2;
  return map.a * x + map.c * y + map.e;
}
