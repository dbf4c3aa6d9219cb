import { join } from "node:path";
import type { Colourway } from "../colour/index.js";
import { RepetendError } from "../errors.js";
import { aDressed, aSketch } from "../garment/checks.js";
import { type Dressed, recolourDressed, type Sketch, writeDressed } from "../garment/index.js";
import type { PixelImage } from "../image/index.js";
import { type Engine, renderNative } from "../raster/index.js";
import { solvePixels } from "../units/index.js";
import { aGarmentPlan, garmentPlanOptions, writeGarmentOptions } from "./checks.js";
import { type FileSink, writeAtomically } from "./files/atomic.js";
import type { ManifestFile, PlannedFile } from "./files/manifest.js";
import { slugOf, slugsOf } from "./files/slug.js";
import { streamPng } from "./png/encode.js";
import type { TileProgress } from "./tile/emit-tile.js";
import { AS_DRAWN } from "./tile/plan.js";

/** What of a dressed garment is written, and how. */
export interface GarmentPlanOptions {
  /** The print's name, with which file names begin. */
  readonly print: string;
  readonly garment: string;
  /** The garment's name in file names. Default: made from its name. */
  readonly slug?: string;
  /** Dots per inch on the sketch's page. Default 300. */
  readonly dpi?: number;
  /** Default: both. */
  readonly formats?: readonly ("svg" | "png")[];
  /** One file a format for each; default: one as drawn. */
  readonly colourways?: readonly Colourway[];
}

/** The files of a garment before it is dressed. */
export interface GarmentPlan {
  readonly pixels: { readonly width: number; readonly height: number };
  readonly files: readonly { readonly file: PlannedFile; readonly colourway: Colourway }[];
}

const DEFAULT_DPI = 300;

/** A sketch with its shading is rendered in one go: 1 GiB of RGBA is what the engines hold. */
const PIXEL_LIMIT = 2 ** 28;

/**
 * Works out the files of a dressed garment: names, pixels, sizes.
 *
 * @throws `RepetendError` E_NUMBER for the resolution; E_TOO_LARGE for more than 2^28 pixels.
 */
export function planGarment(sketch: Sketch, options: GarmentPlanOptions): GarmentPlan {
  aSketch(sketch, "sketch");
  garmentPlanOptions(options, "options");
  const { print, garment, dpi = DEFAULT_DPI, formats = ["svg", "png"], colourways = [] } = options;
  const slug = options.slug ?? slugOf(garment);
  const { width, height, x, y } = solvePixels({ width: sketch.width, height: sketch.height, dpi });
  if (formats.includes("png") && width * height > PIXEL_LIMIT) {
    throw new RepetendError("E_TOO_LARGE", "too many pixels for one picture of a garment", {
      input: garment,
      value: `${width} x ${height} px`,
      accepted: `at most ${PIXEL_LIMIT} px in all`,
    });
  }
  const inks = colourways.length > 0 ? colourways : [AS_DRAWN];
  const slugs = slugsOf(inks.map((one) => one.name));
  const mm = { width: sketch.width, height: sketch.height };
  const files = inks.flatMap((colourway, index) =>
    [...new Set(formats)].map((format) => {
      const path = `${slugOf(print)}--${slug}--${slugs[index]}.${format}`;
      const shared = { path, kind: "garment", format, garment, colourway: colourway.name, mm } as const;
      const file: PlannedFile =
        format === "png" ? { ...shared, width, height, dpi: { x: x.dpi, y: y.dpi } } : shared;
      return { file, colourway };
    }),
  );
  return { pixels: { width, height }, files };
}

/** Where and how the files of a garment are written. */
export interface WriteGarmentOptions {
  /** The folder; it must be there. */
  readonly dir: string;
  /** Default: the native engine. */
  readonly engine?: Engine;
  /** Called as the work goes on. */
  readonly onProgress?: (progress: TileProgress) => void;
  /** Called with each file once it stands under its name. */
  readonly onFile?: (file: ManifestFile) => void;
  /** Files that stand in the folder already, whole: they are listed and not made again. Default: none. */
  readonly finished?: readonly ManifestFile[];
  /** Stops between two files; its reason is thrown. */
  readonly signal?: AbortSignal;
}

/** Rows that are compressed together, so that two threads share a picture. */
const ROWS = 512;

function* cutRows(image: PixelImage): Generator<PixelImage> {
  for (let y = 0; y < image.height; y += ROWS) {
    const height = Math.min(ROWS, image.height - y);
    yield { ...image, height, data: image.data.subarray(y * image.stride, (y + height) * image.stride) };
  }
}

/**
 * Writes a dressed garment in every colourway of its plan. It is dressed once; a colourway changes its inks. Pictures
 * are RGBA: the page around the garment stays clear.
 *
 * @throws `RepetendError` E_RENDER when the renderer fails; E_WRITE when a file cannot be written.
 */
export async function writeGarment(
  plan: GarmentPlan,
  dressed: Dressed,
  options: WriteGarmentOptions,
): Promise<readonly ManifestFile[]> {
  aGarmentPlan(plan, "plan");
  aDressed(dressed, "dressed");
  writeGarmentOptions(options, "options");
  const { pixels, files } = plan;
  const { dir, engine = renderNative, onProgress, onFile, signal, finished = [] } = options;
  const known = new Map(finished.map((one) => [one.path, one]));
  const written: ManifestFile[] = [];
  for (const { file, colourway } of files) {
    signal?.throwIfAborted();
    const { path, dpi } = file;
    const before = known.get(path);
    if (before !== undefined) {
      written.push(before);
      continue;
    }
    const total = file.height ?? 1;
    onProgress?.({ path, done: 0, total });
    const coloured = recolourDressed(dressed, colourway);
    const title = { colourway: colourway.name };
    const write = async (sink: FileSink): Promise<void> => {
      if (file.format === "svg") return sink.write(writeDressed(coloured, title));
      const image = await engine(writeDressed(coloured, { ...title, pixels }), pixels);
      const texts = { Title: dressed.name, Colourway: colourway.name };
      const header = { ...pixels, colour: { kind: "rgba" }, ...(dpi ? { dpi } : {}), texts } as const;
      for await (const part of streamPng(header, cutRows(image))) await sink.write(part);
    };
    const { bytes, sha256 } = await writeAtomically(join(dir, path), write);
    const done = { ...file, bytes, sha256 };
    written.push(done);
    onProgress?.({ path, done: total, total });
    onFile?.(done);
  }
  return written;
}
