import { join } from "node:path";
import { type ManifestFile, type PlannedFile, slugOf, streamPng, writeAtomically } from "../../emit/index.js";
import { rasterisePage } from "../../raster/index.js";
import type { Job } from "../job/job.js";

/** What a printer on a desk resolves, and a screen shows well. */
const SHEET_DPI = 150;

/** Pages for people: what they are called in file names, how many there are, and how large they are in mm. */
export interface PageSet {
  readonly print: string;
  readonly what: "spec-sheet" | "colourway-board" | "line-sheet";
  readonly count: number;
  readonly mm: { readonly width: number; readonly height: number };
}

type PageFile = PlannedFile & { readonly format: "svg" | "png" };

/** A page is rendered in one go: half of what the renderer takes, which is half a GiB of RGBA. */
const MOST_PIXELS = 2 ** 27;

/** Dots per inch of a page: a very large one is seen from far away. */
const dpiOf = ({ width, height }: PageSet["mm"]): number =>
  Math.min(SHEET_DPI, Math.floor(25.4 * Math.sqrt(MOST_PIXELS / (width * height))));

function pixelsOf(mm: PageSet["mm"]): { readonly width: number; readonly height: number } {
  const perMm = dpiOf(mm) / 25.4;
  return { width: Math.round(mm.width * perMm), height: Math.round(mm.height * perMm) };
}

function planPage({ print, what, mm }: PageSet, page: number, format: "svg" | "png"): PageFile {
  const number = page === 1 ? "" : `-${page}`;
  return {
    path: `${slugOf(print)}--${what}${number}.${format}`,
    kind: "sheet",
    format,
    colourway: "all",
    mm,
    ...(format === "png" ? { ...pixelsOf(mm), dpi: { x: dpiOf(mm), y: dpiOf(mm) } } : {}),
  };
}

/** The files of pages, page by page: SVG, and PNG where PNGs are written. */
export function planPages(
  set: PageSet,
  { formats = ["svg", "png"] }: NonNullable<Job["emit"]>,
): readonly PageFile[] {
  const shown = formats.includes("png") ? (["svg", "png"] as const) : (["svg"] as const);
  return Array.from({ length: set.count }, (_, at) =>
    shown.map((format) => planPage(set, at + 1, format)),
  ).flat();
}

/** What goes with {@link writePages}. */
export interface WritePagesOptions {
  readonly finished: readonly ManifestFile[];
  readonly onFile: (file: ManifestFile) => void;
  readonly signal?: AbortSignal;
}

/** Writes drawn pages; what is finished is listed and not written again. */
export async function writePages(
  out: string,
  pages: readonly string[],
  set: Omit<PageSet, "count">,
  emit: NonNullable<Job["emit"]>,
  { finished, onFile, signal }: WritePagesOptions,
): Promise<readonly ManifestFile[]> {
  const known = new Map(finished.map((one) => [one.path, one]));
  const planned = planPages({ ...set, count: pages.length }, emit);
  const files: ManifestFile[] = [];
  for (const [at, file] of planned.entries()) {
    signal?.throwIfAborted();
    const page = pages[Math.floor((at * pages.length) / planned.length)] ?? "";
    const before = known.get(file.path);
    if (before !== undefined) {
      files.push(before);
      continue;
    }
    const written = await writeAtomically(join(out, file.path), async (sink) => {
      if (file.format === "svg") return sink.write(page);
      const pixels = pixelsOf(set.mm);
      const image = await rasterisePage(page, { dpi: dpiOf(set.mm) });
      const header = {
        ...pixels,
        colour: { kind: "rgba" },
        dpi: { x: dpiOf(set.mm), y: dpiOf(set.mm) },
        texts: { Title: set.print },
      } as const;
      for await (const part of streamPng(header, [image])) await sink.write(part);
    });
    const done = { ...file, bytes: written.bytes, sha256: written.sha256 };
    files.push(done);
    onFile(done);
  }
  return files;
}
