import { join } from "node:path";
import { type SpecSheetOptions, specSheet } from "../board/index.js";
import { type ManifestFile, type PlannedFile, slugOf, streamPng, writeAtomically } from "../emit/index.js";
import { rasterise } from "../raster/index.js";
import type { Job } from "./job.js";

/** A4. */
const PAGE = { width: 210, height: 297 };

/** What a printer on a desk resolves, and a screen shows well. */
const SHEET_DPI = 150;

const PIXELS = {
  width: Math.round((PAGE.width / 25.4) * SHEET_DPI),
  height: Math.round((PAGE.height / 25.4) * SHEET_DPI),
};

function planPage(print: string, page: number, format: "svg" | "png"): PlannedFile {
  const number = page === 1 ? "" : `-${page}`;
  return {
    path: `${slugOf(print)}--spec-sheet${number}.${format}`,
    kind: "sheet",
    format,
    colourway: "all",
    mm: PAGE,
    ...(format === "png" ? { ...PIXELS, dpi: { x: SHEET_DPI, y: SHEET_DPI } } : {}),
  };
}

const formatsOf = ({ formats = ["svg", "png"] }: NonNullable<Job["emit"]>): readonly ("svg" | "png")[] =>
  formats.includes("png") ? ["svg", "png"] : ["svg"];

/** The files of a job's spec sheet: its first page, since how many there are is known when it is drawn. */
export function planSheet(print: string, emit: Job["emit"]): readonly PlannedFile[] {
  if (emit?.sheet !== true) return [];
  return formatsOf(emit).map((format) => planPage(print, 1, format));
}

/** What goes with {@link writeSheet}. */
export interface WriteSheetOptions {
  readonly finished: readonly ManifestFile[];
  readonly onFile: (file: ManifestFile) => void;
  readonly signal?: AbortSignal;
}

/** Draws and writes a job's spec sheet; what is finished is listed and not written again. */
export async function writeSheet(
  out: string,
  emit: Job["emit"],
  options: SpecSheetOptions,
  { finished, onFile, signal }: WriteSheetOptions,
): Promise<readonly ManifestFile[]> {
  if (emit?.sheet !== true) return [];
  const known = new Map(finished.map((one) => [one.path, one]));
  const files: ManifestFile[] = [];
  for (const [at, page] of specSheet(options).entries()) {
    for (const format of formatsOf(emit)) {
      signal?.throwIfAborted();
      const planned = planPage(options.print.name, at + 1, format);
      const before = known.get(planned.path);
      if (before !== undefined) {
        files.push(before);
        continue;
      }
      const written = await writeAtomically(join(out, planned.path), async (sink) => {
        if (format === "svg") return sink.write(page);
        const image = await rasterise(page, PIXELS);
        const header = {
          ...PIXELS,
          colour: { kind: "rgba" },
          dpi: { x: SHEET_DPI, y: SHEET_DPI },
          texts: { Title: options.print.name },
        } as const;
        for await (const part of streamPng(header, [image])) await sink.write(part);
      });
      const file = { ...planned, bytes: written.bytes, sha256: written.sha256 };
      files.push(file);
      onFile(file);
    }
  }
  return files;
}
