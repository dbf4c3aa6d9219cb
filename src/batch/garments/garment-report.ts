import type { Note } from "../../errors.js";
import type { Dressed, DressedPanel, SketchScale } from "../../garment/index.js";

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

const isTrue = (gather: number): boolean => Math.abs(gather - 1) < 0.005;

function describeGathers({ top, bottom }: { readonly top: number; readonly bottom: number }): string {
  if (isTrue(top) && isTrue(bottom)) return "true to scale at both edges";
  const at = (edge: string, gather: number): string =>
    isTrue(gather) ? `true to scale at the ${edge}` : `${factor(gather)} of cloth to 1 at the ${edge}`;
  return `${at("top", top)}, ${at("bottom", bottom)}`;
}

/** One panel in one sentence: how it lies, levels across the print, phase along it, what is gathered, what is missing. */
function describePanel(panel: DressedPanel): string {
  const { takes, grain, gathers, beyond, mirrored } = panel;
  return [
    `${panel.print}, ${panel.how}`,
    `across ${cm(takes.y)} to ${cm(takes.y + takes.height)}`,
    `along ${cm(takes.x)} to ${cm(takes.x + takes.width)}`,
    ...(grain === 0 ? [] : [`turned ${factor(grain)} degrees`]),
    ...(mirrored === undefined ? [] : [`${mirrored} mirrored`]),
    ...(gathers === undefined ? [] : [describeGathers(gathers)]),
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
