import { buildPrint, checkPrintSeams, readBytes, readJob } from "../batch/index.js";
import { nameInput, RepetendError } from "../errors.js";
import { rasterise, readImage } from "../raster/index.js";
import { checkDrawnSeams, checkSeams, type SeamLayout, type SeamReport } from "../seam/index.js";
import { readPositive } from "./arguments.js";
import { type Command, type CommandArguments, EXIT } from "./command.js";
import { describeReport } from "./words.js";

const LAYOUTS = ["straight", "half-drop", "brick", "border"] as const;

/** SVG files and jobs are looked at in this resolution, unless another is asked for. */
const DEFAULT_DPI = 100;

/** The largest file that is read: 1 GiB. */
const PICTURE_LIMIT = 2 ** 30;

function readLayout({ values }: CommandArguments): SeamLayout {
  const text = values.layout ?? "straight";
  const known = LAYOUTS.find((layout) => layout === text);
  if (known !== undefined) return known;
  const [, along, step] = /^(column|row):(\d+\/\d+)$/.exec(text) ?? [];
  if (step !== undefined && (along === "column" || along === "row")) return { kind: "stepped", along, step };
  throw new RepetendError("E_USAGE", "there is no such layout", {
    input: "--layout",
    value: text,
    accepted: `${LAYOUTS.join(", ")}, or a step as column:1/3 or row:1/3`,
  });
}

/** A drawing is told by its first sign; everything else is a picture. */
function isDrawing(bytes: Uint8Array): boolean {
  const start = new TextDecoder().decode(bytes.subarray(0, 1024));
  return start
    .replace(/^\uFEFF/, "")
    .trimStart()
    .startsWith("<");
}

/** A drawing is checked as pixels and shape by shape, a picture as pixels. */
async function checkBytes(bytes: Uint8Array, layout: SeamLayout, dpi: number): Promise<SeamReport> {
  if (!isDrawing(bytes)) return checkSeams(await readImage(bytes), { layout });
  const picture = await rasterise(bytes, { dpi });
  return checkDrawnSeams(picture, new TextDecoder().decode(bytes), { layout });
}

async function checkFile(path: string, layout: SeamLayout, dpi: number): Promise<SeamReport> {
  if (/\.(?:json|ya?ml)$/i.test(path)) {
    return checkPrintSeams(await buildPrint(await readJob(path)), { dpi });
  }
  const bytes = await readBytes(path, PICTURE_LIMIT);
  try {
    return await checkBytes(bytes, layout, dpi);
  } catch (error) {
    throw nameInput(error, path);
  }
}

/** `repetend check`. */
export const check: Command = {
  name: "check",
  operands: "FILE…",
  summary: "Tell whether tiles close on themselves",
  details:
    "FILE is a tile as SVG, PNG, JPEG, TIFF or WebP, or a job, whose tile is then drawn and checked.\n" +
    "The exit code is 0 when all seams are closed, 1 when one is open, 2 for bad input.",
  options: {
    layout: {
      type: "string",
      value: "LAYOUT",
      help: `how the tiles are laid: ${LAYOUTS.join(", ")}, column:1/3, row:1/3 (default: straight)`,
    },
    dpi: { type: "string", value: "DPI", help: `the resolution for drawings (default: ${DEFAULT_DPI})` },
    json: { type: "boolean", help: "the reports as JSON on stdout" },
  },
  count: { least: 1, most: Number.POSITIVE_INFINITY },
  run: async (given, { stdout, signal }) => {
    const layout = readLayout(given);
    const dpi = readPositive(given, "dpi") ?? DEFAULT_DPI;
    const reports: { file: string; report: SeamReport }[] = [];
    for (const file of given.files) {
      signal?.throwIfAborted();
      const report = await checkFile(file, layout, dpi);
      reports.push({ file, report });
      if (!given.flags.has("json")) stdout.write(describeReport(file, report));
    }
    const ok = reports.every(({ report }) => report.ok);
    if (given.flags.has("json")) stdout.write(`${JSON.stringify({ ok, reports }, null, 2)}\n`);
    return ok ? EXIT.done : EXIT.open;
  },
};
