import { RepetendError } from "../../errors.js";
import { applyTo } from "../../geometry/affine.js";
import type { Placement, Print } from "../../repeat/types.js";
import { mm } from "../../units/index.js";
import { findBand } from "../find-band.js";
import type { PanelOptions } from "../options.js";
import { type PanelFrame, sideOf, topOf } from "./panel-frame.js";

/** Which level of the print lies at which side of a panel, in mm. */
export interface EdgeLevel {
  readonly side: "top" | "bottom";
  /** The level of the print that lies exactly on the panel's edge, the gap counted in. */
  readonly level: number;
}

/** Reads which level of the print lies on which edge. */
export function readLevel(frame: PanelFrame, print: Print, options: PanelOptions): EdgeLevel {
  const { name } = frame;
  const band = options.band === undefined ? undefined : findBand(print, options.band, name);
  if (band !== undefined && options.level !== undefined)
    throw new RepetendError("E_LAYOUT", "a panel takes a band or a level, not both", { where: name });
  const isFree =
    print.kind === "all-over" &&
    options.edge === undefined &&
    band === undefined &&
    options.level === undefined;
  const side = isFree ? topOf(frame) : sideOf(frame, options.edge ?? "bottom");
  const gap = mm(options.gap ?? 0);
  const met = (options.meets ?? side) === "top" ? band?.from : band?.to;
  const ends = print.kind === "border" && side === "bottom" ? print.width : 0;
  const level = met ?? (options.level === undefined ? ends : mm(options.level));
  return { side, level: side === "bottom" ? level + gap : level - gap };
}

/** What lies on the panel's centre line, along the print, in mm. */
export function readAlong(frame: PanelFrame, print: Print, options: PanelOptions): number {
  const { centre } = options;
  if (centre === undefined) return mm(options.along ?? 0);
  const band =
    print.kind === "border" && options.band !== undefined
      ? findBand(print, options.band, frame.name)
      : undefined;
  const all = print.kind === "border" ? print.bands.flatMap(({ motifs }) => motifs) : print.motifs;
  const named = (placements: readonly Placement[]) => placements.find(({ motif }) => motif.name === centre);
  const placement = named(band?.motifs ?? all) ?? named(all);
  if (placement === undefined)
    throw new RepetendError("E_LAYOUT", "the print has no motif of this name to centre", {
      where: frame.name,
      value: centre,
      accepted: [...new Set(all.map(({ motif }) => motif.name))].join(", ") || "a print with motifs",
    });
  const { viewBox } = placement.motif;
  return applyTo(placement.map, { x: viewBox.x + viewBox.width / 2, y: viewBox.y + viewBox.height / 2 }).x;
}
