import { type SheetCoverage, type SpecSheetOptions, specSheet } from "../../board/index.js";
import type { ManifestFile, PlannedFile } from "../../emit/index.js";
import { planeInks, whyNotLinear } from "../../raster/index.js";
import type { Print } from "../../repeat/index.js";
import type { Job } from "../job/job.js";
import { planPages, type WritePagesOptions, writePages } from "./sheet-pages.js";

/** A4. */
const PAGE = { width: 210, height: 297 };

/** As long as coverage is not measured: something in its place, so that pages are laid out as they will be. */
const standIn = (print: Print): readonly SheetCoverage[] =>
  whyNotLinear(print).length > 0
    ? []
    : planeInks(print).map((ink) => ({ ink, share: 0.5, perRepeat: 1, perRunningMetre: 1 }));

/**
 * The files of a job's spec sheet. How many pages there are is found by drawing them with what is known before the print
 * is drawn.
 *
 * @throws `RepetendError` E_COLOUR as `specSheet`.
 */
export function planSheet(options: SpecSheetOptions, emit: Job["emit"]): readonly PlannedFile[] {
  if (emit?.sheet !== true) return [];
  const { print } = options;
  const count = specSheet({ ...options, coverage: standIn(print) }).length;
  return planPages({ print: print.name, what: "spec-sheet", count, mm: PAGE }, emit);
}

/** Draws and writes a job's spec sheet; what is finished is listed and not written again. */
export async function writeSheet(
  out: string,
  emit: Job["emit"],
  options: SpecSheetOptions,
  writing: WritePagesOptions,
): Promise<readonly ManifestFile[]> {
  if (emit?.sheet !== true) return [];
  const set = { print: options.print.name, what: "spec-sheet", mm: PAGE } as const;
  return writePages(out, specSheet(options), set, emit, writing);
}
