import { readdir, readFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { jobJsonSchema } from "../batch/index.js";
import { makeFolder, writeAtomically } from "../emit/index.js";
import { RepetendError } from "../errors.js";
import { type Command, EXIT } from "./command.js";

/** The example as it comes with the package: two levels up, from the sources and from what is built alike. */
const EXAMPLE = fileURLToPath(new URL("../../examples/saltmarsh/", import.meta.url));

/** The schema's name beside a job, so that an editor finds it without the package. */
const SCHEMA_NAME = "job.schema.json";

/** All files of the example, relative to it, without what was made from it. */
async function listExample(): Promise<readonly string[]> {
  const entries = await readdir(EXAMPLE, { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(EXAMPLE.length))
    .filter((name) => /\.(?:svg|csv|json|md)$/.test(name) && !name.startsWith("out"))
    .sort();
}

async function refuseFullFolder(dir: string): Promise<void> {
  const names = await readdir(dir).catch((): readonly string[] => []);
  if (names.length === 0) return;
  throw new RepetendError("E_WRITE", "the folder is not empty, and nothing in it is written over", {
    input: dir,
    accepted: "a new or empty folder",
  });
}

/** `repetend new`. */
export const newExample: Command = {
  name: "new",
  operands: "DIR",
  summary: "Write an example to start from: a border print in three colourways",
  details: "DIR must be new or empty. Then: repetend make DIR/border.job.json",
  options: {},
  count: { least: 1, most: 1 },
  run: async ({ files }, { stdout }) => {
    const [dir = ""] = files;
    await refuseFullFolder(dir);
    for (const name of await listExample()) {
      const text = await readFile(join(EXAMPLE, name), "utf8");
      await makeFolder(dirname(join(dir, name)));
      const own = text.replace(/("\$schema":\s*)"[^"]*"/, `$1"${SCHEMA_NAME}"`);
      await writeAtomically(join(dir, name), (sink) => sink.write(name.endsWith(".job.json") ? own : text));
      stdout.write(`${join(dir, name)}\n`);
    }
    await writeAtomically(join(dir, SCHEMA_NAME), (sink) =>
      sink.write(`${JSON.stringify(jobJsonSchema(), null, 2)}\n`),
    );
    stdout.write(`${join(dir, SCHEMA_NAME)}\n`);
    return EXIT.done;
  },
};
