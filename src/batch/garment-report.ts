import type { Note } from "../errors.js";
import type { Dressed, DressedPanel, SketchScale } from "../garment/index.js";

/** What became of one panel, with a sentence for a spec sheet. */
export type PanelReport = DressedPanel & { readonly says: string };

/** How a garment of a job is dressed. */
export interface GarmentReport {
  readonly garment: string;
  /** The sketch's scale in a sentence. */
  readonly says: string;
  readonly scale: SketchScale;
  /** How much wider the border's cloth is than the length that gave the scale, in mm. */
  readonly spare?: number;
  readonly panels: readonly PanelReport[];
}

/** A length on the cloth as people say it, to a millimetre. */
const cm = (length: number): string => `${Number((length / 10).toFixed(1))} cm`;
const factor = (value: number): string => String(Number(value.toFixed(2)));

/** One panel in one sentence: how it lies, levels across the print, phase along it, what is gathered, what is missing. */
function describePanel(panel: DressedPanel): string {
  const { takes, grain, gathers, beyond, mirrored } = panel;
  const held = (edge: "top" | "bottom", value: number): string =>
    Math.abs(value - 1) < 0.005 ? `true at the ${edge}` : `${factor(value)} to 1 at the ${edge}`;
  return [
    `${panel.print}, ${panel.how}`,
    `across ${cm(takes.y)} to ${cm(takes.y + takes.height)}`,
    `along ${cm(takes.x)} to ${cm(takes.x + takes.width)}`,
    ...(grain === 0 ? [] : [`turned ${factor(grain)} degrees`]),
    ...(mirrored === undefined ? [] : [`${mirrored} mirrored`]),
    ...(gathers === undefined
      ? []
      : [`cloth ${held("top", gathers.top)}, ${held("bottom", gathers.bottom)}`]),
    ...beyond.map(({ selvedge, by }) =>
      selvedge === "either" ? `${cm(by)} wider than the cloth` : `${cm(by)} beyond the ${selvedge} selvedge`,
    ),
  ].join("; ");
}

/** The report of a dressed garment as it stands in the manifest. */
export function reportGarment(garment: string, { report }: Dressed): GarmentReport {
  const { says, scale, spare, panels } = report;
  return {
    garment,
    says,
    scale,
    ...(spare === undefined ? {} : { spare }),
    panels: panels.map((panel) => ({ ...panel, says: describePanel(panel) })),
  };
}

/** The notes of a dressed garment, with its name. */
export function notesOfGarment(garment: string, { report }: Dressed): readonly Note[] {
  return report.notes.map((note) => ({ ...note, where: [garment, note.where].filter(Boolean).join(", ") }));
}
