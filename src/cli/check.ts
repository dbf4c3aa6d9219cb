import { join, parse } from "node:path";
import { buildPrint, checkPrintPicture, type ReadOptions, readBytes, readJob } from "../batch/index.js";
import { keepFiles } from "../batch/runs/keep-inputs.js";
import { slugsOf } from "../emit/index.js";
import { nameInput, RepetendError } from "../errors.js";
import type { PixelImage } from "../image/index.js";
import { rasterise, readImage } from "../raster/index.js";
import {
  checkDrawnSeams,
  checkLining,
  checkSeams,
  type LiningReport,
  type SeamLayout,
  type SeamReport,
  type StatedRepeat,
} from "../seam/index.js";
import { readPositive } from "./arguments.js";
import { chooseLayout, type LayoutChoice } from "./check-layout.js";
import { LAYOUTS, readLayout, readRepeat } from "./check-options.js";
import {
  type Checked,
  describeLining,
  pathsOf,
  writeLiningMap,
  writeSeamPictures,
} from "./check-pictures.js";
import { type Command, EXIT } from "./command.js";
import { describeReport } from "./words.js";

/** SVG files and jobs are looked at in this resolution, unless another is asked for. */
const DEFAULT_DPI = 100;

/** The largest file that is read: 1 GiB. */
const PICTURE_LIMIT = 2 ** 30;

/** A drawing is told by its first sign; everything else is a picture. */
function isDrawing(bytes: Uint8Array): boolean {
  const start = new TextDecoder().decode(bytes.subarray(0, 1024));
  return start
    .replace(/^\uFEFF/, "")
    .trimStart()
    .startsWith("<");
}

interface Wanted {
  readonly layout: SeamLayout | undefined;
  readonly repeat: StatedRepeat | undefined;
  readonly dpi: number;
}

const given = (layout: SeamLayout, image: PixelImage): LayoutChoice => ({
  layout,
  why: "given",
  says: "",
  image,
  part: undefined,
});

/** A drawing is checked as pixels and shape by shape, a picture as pixels. */
async function checkBytes(bytes: Uint8Array, wanted: Wanted): Promise<Checked & { choice: LayoutChoice }> {
  const isSvg = isDrawing(bytes);
  const picture = isSvg ? await rasterise(bytes, { dpi: wanted.dpi }) : await readImage(bytes);
  // A stated repeat speaks of the whole picture, so that no part of it is taken.
  const found = wanted.layout === undefined ? chooseLayout(picture) : given(wanted.layout, picture);
  const choice =
    found.part && wanted.repeat
      ? { ...given("straight", picture), why: "default" as const, says: "Checked as straight." }
      : found;
  const { layout, image, part } = choice;
  const options = { layout, ...(wanted.repeat === undefined ? {} : { repeat: wanted.repeat }) };
  const report =
    isSvg && part === undefined
      ? checkDrawnSeams(image, new TextDecoder().decode(bytes), options)
      : checkSeams(image, options);
  return { image, layout, report, choice };
}

/** The tile of a job is laid as its print says. */
async function checkJob(path: string, dpi: number, reading: ReadOptions): Promise<Checked> {
  const print = await buildPrint(await readJob(path, reading), reading);
  const layout = print.kind === "border" ? "border" : "straight";
  return { layout, ...(await checkPrintPicture(print, { dpi })) };
}

async function checkFile(
  path: string,
  wanted: Wanted,
  reading: ReadOptions,
): Promise<Checked & { choice?: LayoutChoice }> {
  if (/\.(?:json|ya?ml)$/i.test(path)) return checkJob(path, wanted.dpi, reading);
  const bytes = await readBytes(path, PICTURE_LIMIT, reading.signal);
  try {
    return await checkBytes(bytes, wanted);
  } catch (error) {
    throw nameInput(error, path);
  }
}

/** What is told of one file. */
interface Finding {
  readonly file: string;
  readonly layout: SeamLayout;
  /** Who chose the layout. */
  readonly chosen: LayoutChoice["why"] | "job";
  readonly says?: string;
  /** The size of the part that was checked, from the picture's top left corner, in pixels; left out for the whole. */
  readonly part?: LayoutChoice["part"];
  readonly lining?: LiningReport;
  readonly pictures?: readonly string[];
  readonly report: SeamReport;
}

function describeFinding({ file, says, lining, pictures, report }: Finding, folder: string): string {
  const lines = [
    ...(says === undefined ? [] : [says]),
    ...(lining === undefined ? [] : [describeLining(lining)]),
    ...(pictures === undefined ? [] : [`Pictures: ${pictures.map((name) => join(folder, name)).join(", ")}`]),
  ];
  return describeReport(file, report) + lines.map((line) => `  ${line}\n`).join("");
}

/** `repetend check`. */
export const check: Command = {
  name: "check",
  operands: "FILE…",
  summary: "Tell whether tiles close on themselves",
  details:
    "FILE is a tile as SVG, PNG, JPEG, TIFF or WebP, or a job, whose tile is then drawn and checked.\n" +
    "Without --layout the repeat that the picture shows says how it is laid; where it shows none, straight.\n" +
    "A job says itself how its tile is laid and what it repeats: --layout and --repeat are for the other files.\n" +
    "The exit code is 0 when all seams are closed, 1 when one is open, 2 for bad input.",
  options: {
    layout: {
      type: "string",
      value: "LAYOUT",
      help: `how the tiles are laid: ${LAYOUTS.join(", ")}, column:1/3, row:1/3 (default: as the picture shows)`,
    },
    repeat: {
      type: "string",
      value: "WIDTH,HEIGHT",
      help: "the repeat that it should hold, for example 64cm,48cm or 1024px,768px",
    },
    dpi: {
      type: "string",
      value: "DPI",
      help: `the resolution for drawings and jobs (default: ${DEFAULT_DPI})`,
    },
    pictures: {
      type: "string",
      value: "DIR",
      help: "write each tile rolled by half, its faults marked, as SVG and PNG",
    },
    lining: { type: "boolean", help: "with --pictures, look for stripes at a distance too and draw them" },
    json: { type: "boolean", help: "the reports as JSON on stdout" },
  },
  count: { least: 1, most: Number.POSITIVE_INFINITY },
  run: async (given, { stdout, signal }) => {
    const dpi = readPositive(given, "dpi") ?? DEFAULT_DPI;
    const wanted = { layout: readLayout(given), repeat: readRepeat(given), dpi };
    const folder = given.values.pictures;
    if (folder === undefined && given.flags.has("lining"))
      throw new RepetendError("E_USAGE", "--lining draws maps and needs a folder for them", {
        input: "repetend check",
        accepted: "--pictures DIR --lining",
      });
    const slugs = slugsOf(given.files.map((file) => parse(file).name));
    if (folder !== undefined)
      keepFiles(
        slugs.flatMap((slug) => pathsOf(folder, slug)),
        given.files,
      );
    const findings: Finding[] = [];
    for (const [index, file] of given.files.entries()) {
      signal?.throwIfAborted();
      const checked = await checkFile(file, wanted, signal === undefined ? {} : { signal });
      const { layout, report, choice } = checked;
      const slug = slugs[index] ?? "tile";
      // A picture that cannot be looked at in every way that is asked leaves none of its files.
      const lining =
        folder !== undefined && given.flags.has("lining")
          ? checkLining(checked.image, {
              layout,
              ...(report.dpi === undefined ? {} : { dpi: report.dpi.x }),
            })
          : undefined;
      const pictures =
        folder === undefined
          ? undefined
          : [
              ...(await writeSeamPictures(folder, slug, checked)),
              ...(lining === undefined ? [] : [await writeLiningMap(folder, slug, checked.image, lining)]),
            ];
      const finding: Finding = {
        file,
        layout,
        chosen: choice?.why ?? "job",
        ...(choice === undefined || choice.says === "" ? {} : { says: choice.says }),
        ...(choice?.part === undefined ? {} : { part: choice.part }),
        ...(lining === undefined ? {} : { lining }),
        ...(pictures === undefined ? {} : { pictures }),
        report,
      };
      findings.push(finding);
      if (!given.flags.has("json")) stdout.write(describeFinding(finding, folder ?? ""));
    }
    const ok = findings.every(({ report }) => report.ok);
    if (given.flags.has("json")) stdout.write(`${JSON.stringify({ ok, reports: findings }, null, 2)}\n`);
    return ok ? EXIT.done : EXIT.open;
  },
};
