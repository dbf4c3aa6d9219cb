import { makeJob, planJob } from "../batch/index.js";
import { type Command, EXIT } from "./command.js";
import { progressWriter } from "./progress.js";
import { describeFile, describeNote, describeReport } from "./words.js";

/** `repetend make`. */
export const make: Command = {
  name: "make",
  operands: "JOB.json",
  summary: "Write the tile and the garments of a job in every colourway, with a manifest",
  details:
    "Files have stable names (saltmarsh-border--low-tide.png) and are whole or absent; running again is safe.\n" +
    "manifest.json is written last: files with pixels, millimetres, dpi, deviation, bytes and sha256, seams, notes.",
  options: {
    out: { type: "string", value: "DIR", help: "the folder of the files (default: out beside the job)" },
    "dry-run": { type: "boolean", help: "say what would be written, and write nothing" },
    strict: { type: "boolean", help: "refuse colourways that do not fit the print" },
    json: { type: "boolean", help: "the manifest on stdout, progress as JSON lines on stderr" },
  },
  count: { least: 1, most: 1 },
  run: async ({ files, flags, values }, { stdout, stderr, signal }) => {
    const [path = ""] = files;
    const asJson = flags.has("json");
    const options = { strict: flags.has("strict"), ...(values.out === undefined ? {} : { out: values.out }) };
    if (flags.has("dry-run")) {
      const plan = await planJob(path, options);
      if (asJson) stdout.write(`${JSON.stringify(plan, null, 2)}\n`);
      else {
        for (const file of plan.files) stdout.write(`${describeFile(file)}\n`);
        for (const note of plan.notes) stderr.write(`${describeNote(note)}\n`);
      }
      return EXIT.done;
    }
    const progress = progressWriter(stderr, asJson);
    try {
      const manifest = await makeJob(path, {
        ...options,
        ...(signal === undefined ? {} : { signal }),
        onProgress: progress.show,
      });
      progress.end();
      if (asJson) stdout.write(`${JSON.stringify(manifest, null, 2)}\n`);
      else {
        for (const file of manifest.files) stdout.write(`${describeFile(file)}\n`);
        for (const note of manifest.notes) stderr.write(`${describeNote(note)}\n`);
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
