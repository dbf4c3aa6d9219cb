import { estimateJob, type JobProgress, type MakeJobOptions, makeJob, planJob } from "../batch/index.js";
import { RepetendError } from "../errors.js";
import { readBytesOption, readCount, readLengthOption, readWindowOption } from "./arguments.js";
import { type Command, type CommandArguments, EXIT } from "./command.js";
import { progressWriter } from "./progress.js";
import { describeBytes, describeFile, describeNote, describeReport, describeTime } from "./words.js";

function readOptions(given: CommandArguments): MakeJobOptions {
  const { flags, values } = given;
  const workers = readCount(given, "workers");
  const memory = readBytesOption(given, "memory");
  const length = readLengthOption(given, "length");
  const crop = readWindowOption(given, "crop");
  if (values.queue !== undefined && (workers ?? memory) !== undefined) {
    throw new RepetendError("E_USAGE", "with --queue the machines that serve say how much they take", {
      accepted: "--workers and --memory of repetend serve",
    });
  }
  return {
    strict: flags.has("strict"),
    again: flags.has("again"),
    ...(values.out === undefined ? {} : { out: values.out }),
    ...(length === undefined ? {} : { length }),
    ...(crop === undefined ? {} : { crop }),
    ...(workers === undefined ? {} : { workers }),
    ...(memory === undefined ? {} : { memory }),
    ...(values.queue === undefined ? {} : { queue: values.queue }),
  };
}

type Left = Extract<JobProgress, { readonly kind: "left" }>;

/** Names enough of them to be found. */
const MOST_NAMES = 4;

/** What stands in the folder still, from an earlier run, and is not of this job. */
function describeLeft({ print, files }: Left, now: string): string {
  const more = files.length > MOST_NAMES ? `, and ${files.length - MOST_NAMES} more` : "";
  const names = `${files.slice(0, MOST_NAMES).join(", ")}${more}`;
  return print === now
    ? `warning: files of an earlier run stand in the folder still, and are not of this job any more: ${names}`
    : `warning: the manifest in the folder was that of "${print}" and is replaced; its files stand there still, ` +
        `without one: ${names}; give each job a folder of its own (--out)`;
}

/** `repetend make`. */
export const make: Command = {
  name: "make",
  operands: "JOB.json",
  summary: "Write the tile and the garments of a job in every colourway, with a manifest",
  details:
    "Files have stable names (saltmarsh-border--low-tide.png) and are whole or absent. Running again goes on where a\n" +
    "run was stopped, and keeps files whose inputs have not changed.\n" +
    "manifest.json is written last: files with pixels, millimetres, dpi, deviation, bytes and sha256, seams, notes.",
  options: {
    out: { type: "string", value: "DIR", help: "the folder of the files (default: out beside the job)" },
    length: { type: "string", value: "5m", help: "add cloth of this length, in whole repeats" },
    crop: {
      type: "string",
      value: '"X Y W H"',
      help: 'add a strike-off: this window of the cloth, for example "0 10cm 20cm 15cm"',
    },
    workers: {
      type: "string",
      value: "N",
      help: "how many processes draw at most; 0 for none but this one (default: one a core, for large jobs)",
    },
    memory: { type: "string", value: "512MB", help: "for all processes together: bounds how many there are" },
    queue: {
      type: "string",
      value: "URL",
      help: "other machines draw: those that serve this Redis server (see repetend serve)",
    },
    again: { type: "boolean", help: "make everything, whatever stands there already" },
    "dry-run": {
      type: "boolean",
      help: "say what would be written, how large and how long, and write nothing",
    },
    strict: { type: "boolean", help: "refuse colourways that lack an ink or make two alike" },
    json: { type: "boolean", help: "the manifest on stdout, progress as JSON lines on stderr" },
  },
  count: { least: 1, most: 1 },
  run: async (given, { stdout, stderr, signal }) => {
    const [path = ""] = given.files;
    const asJson = given.flags.has("json");
    const options = readOptions(given);
    if (given.flags.has("dry-run")) {
      const plan = await planJob(path, options);
      const estimate = await estimateJob(path, options);
      if (asJson) stdout.write(`${JSON.stringify({ ...plan, estimate }, null, 2)}\n`);
      else {
        for (const file of plan.files) stdout.write(`${describeFile(file)}\n`);
        const { seconds, bytes } = estimate;
        stdout.write(`tiles and yardage: about ${describeBytes(bytes)}, ${describeTime(seconds)}\n`);
        for (const note of plan.notes) stderr.write(`${describeNote(note)}\n`);
      }
      return EXIT.done;
    }
    const progress = progressWriter(stderr, asJson);
    const left: Left[] = [];
    try {
      const manifest = await makeJob(path, {
        ...options,
        ...(signal === undefined ? {} : { signal }),
        onProgress: (one) => {
          progress.show(one);
          if (one.kind === "left") left.push(one);
        },
      });
      progress.end();
      if (asJson) stdout.write(`${JSON.stringify(manifest, null, 2)}\n`);
      else {
        for (const file of manifest.files) stdout.write(`${describeFile(file)}\n`);
        for (const note of manifest.notes) stderr.write(`${describeNote(note)}\n`);
        for (const one of left) stderr.write(`${describeLeft(one, manifest.print)}\n`);
        for (const { colourway, report } of manifest.seams) {
          if (!report.ok) stderr.write(`warning: ${describeReport(`seams of ${colourway}`, report)}`);
        }
      }
      return EXIT.done;
    } finally {
      progress.end();
    }
  },
};
