import { type ManifestFile, type WriteGarmentOptions, writeGarment } from "../../emit/index.js";
import type { Note } from "../../errors.js";
import type { Dressed } from "../../garment/index.js";
import type { Print } from "../../repeat/index.js";
import { type GarmentReport, notesOfGarment, reportGarment } from "./garment-report.js";
import { dressGarment, type PlannedGarment } from "./plan-garments.js";

/** A garment that was dressed, once for all colourways. */
export interface DressedGarment {
  readonly planned: PlannedGarment;
  readonly dressed: Dressed;
  readonly report: GarmentReport;
  /** What was not known before motifs were draped. */
  readonly notes: readonly Note[];
}

/** Dresses the garments of a job. */
export function dressGarments(planned: readonly PlannedGarment[], print: Print): readonly DressedGarment[] {
  return planned.map((one) => {
    const dressed = dressGarment(one.read, print);
    const { name } = one.read;
    const known = new Set(one.notes.map((note) => JSON.stringify(note)));
    const notes = notesOfGarment(name, dressed).filter((note) => !known.has(JSON.stringify(note)));
    return { planned: one, dressed, report: reportGarment(name, dressed), notes };
  });
}

/** Writes dressed garments in every colourway. */
export async function writeGarments(
  garments: readonly DressedGarment[],
  options: WriteGarmentOptions,
): Promise<readonly ManifestFile[]> {
  const files: ManifestFile[] = [];
  for (const { planned, dressed } of garments)
    files.push(...(await writeGarment(planned.plan, dressed, options)));
  return files;
}
