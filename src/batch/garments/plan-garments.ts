import type { Colourway } from "../../colour/index.js";
import { type GarmentPlan, planGarment, slugsOf } from "../../emit/index.js";
import type { Note } from "../../errors.js";
import { type Dressed, dress } from "../../garment/index.js";
import type { Motif } from "../../motif/index.js";
import type { Placement, Print } from "../../repeat/index.js";
import type { ReadOptions } from "../job/read-file.js";
import type { LoadedJob } from "../job/read-job.js";
import { naming } from "../prints/build-print.js";
import { checkGarmentColourways, joinColourways, type PaintedGarment } from "./garment-colourways.js";
import { type GarmentReport, notesOfGarment, reportGarment } from "./garment-report.js";
import { type ReadGarment, readGarments } from "./read-garments.js";

/** A garment of a job, ready to be dressed. */
export interface PlannedGarment {
  readonly read: ReadGarment;
  readonly plan: GarmentPlan;
  /** As it will lie, before motifs are drawn. */
  readonly laid: Dressed;
  /** The same in numbers and sentences. */
  readonly report: GarmentReport;
  readonly notes: readonly Note[];
}

/** The garments of a job, and what should be known of their colourways. */
export interface PlannedGarments {
  readonly garments: readonly PlannedGarment[];
  readonly notes: readonly Note[];
}

/** How the garments of a job are planned. */
export interface PlanGarmentsOptions extends ReadOptions {
  readonly colourways: readonly Colourway[];
  readonly strict: boolean;
}

/** The print without what its motifs draw: all that can be said of a placement, in a moment. */
function withoutDrawings<P extends Print>(print: P): P;
function withoutDrawings(print: Print): Print {
  const empty = (motif: Motif): Motif => ({ ...motif, body: [], defs: [] });
  const all = (placements: readonly Placement[]) =>
    placements.map((one) => ({ ...one, motif: empty(one.motif) }));
  if (print.kind === "all-over") return { ...print, motifs: all(print.motifs) };
  return { ...print, bands: print.bands.map((band) => ({ ...band, motifs: all(band.motifs) })) };
}

/** Dresses a garment; refusals carry its name. */
export function dressGarment({ name, sketch, options }: ReadGarment, print: Print): Dressed {
  return naming(name, () => dress(sketch, print, options));
}

/** Dresses a garment in the outlines of its prints only. */
function layOut(garment: ReadGarment, print: Print): Dressed {
  const panels = garment.options.panels.map((panel) =>
    panel.print === undefined ? panel : { ...panel, print: withoutDrawings(panel.print) },
  );
  const options = { ...garment.options, panels };
  return dressGarment({ ...garment, options }, withoutDrawings(print));
}

/**
 * Reads the garments of a job and works out their files and how the prints will lie; nothing is draped yet.
 *
 * @throws `RepetendError` E_READ, E_ENCODING, E_LIMIT for files; what drawings, tables and companion jobs refuse;
 * as `dress`, with the garment's name; E_COLOURWAY for tables that contradict each other, and in strict mode.
 */
export async function planGarments(
  loaded: LoadedJob,
  print: Print,
  { colourways, strict, ...reading }: PlanGarmentsOptions,
): Promise<PlannedGarments> {
  const garments = await readGarments(loaded, reading);
  const slugs = slugsOf(garments.map(({ name }) => name));
  // A garment is shown to people: where only TIFFs are asked for, it is a PNG.
  const asked = loaded.job.emit?.formats;
  const shown = asked?.filter((format) => format !== "tiff");
  const formats = shown?.length === 0 ? (["png"] as const) : shown;
  const painted: PaintedGarment[] = [];
  const planned = garments.map((read, index): PlannedGarment => {
    const { name, sketch, dpi, companions } = read;
    const joined = joinColourways(read, colourways);
    const plan = planGarment(sketch, {
      print: print.name,
      garment: name,
      slug: slugs[index] ?? "",
      colourways: joined,
      ...(dpi === undefined ? {} : { dpi }),
      ...(formats === undefined ? {} : { formats }),
    });
    const laid = layOut(read, print);
    painted.push({ read, joined, painted: laid.inks.map(({ ink }) => ink) });
    const dropped = sketch.removed.map((note) => ({
      ...note,
      where: [name, note.where].filter(Boolean).join(", "),
    }));
    const notes = [
      ...dropped,
      ...companions.flatMap((one) => one.print.notes),
      ...notesOfGarment(name, laid),
    ];
    return { read, plan, laid, report: reportGarment(name, laid), notes };
  });
  return { garments: planned, notes: checkGarmentColourways(painted, strict) };
}
