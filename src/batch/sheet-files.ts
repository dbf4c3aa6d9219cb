import { type SpecSheetOptions, specSheet } from "../board/index.js";
import type { ManifestFile, PlannedFile } from "../emit/index.js";
import type { Job } from "./job.js";
import { planPages, type WritePagesOptions, writePages } from "./sheet-pages.js";

/** A4. */
const PAGE = { width: 210, height: 297 };

/** The files of a job's spec sheet: its first page, since how many there are is known when it is drawn. */
export function planSheet(print: string, emit: Job["emit"]): readonly PlannedFile[] {
  if (emit?.sheet !== true) return [];
  return planPages({ print, what: "spec-sheet", count: 1, mm: PAGE }, emit);
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
