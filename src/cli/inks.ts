import { buildPrint, type ReadOptions, readJob, readMotif } from "../batch/index.js";
import type { InkUse } from "../motif/index.js";
import { inksOf } from "../repeat/index.js";
import { type Command, EXIT } from "./command.js";

async function readInks(path: string, reading: ReadOptions): Promise<readonly InkUse[]> {
  return /\.(?:json|ya?ml)$/i.test(path)
    ? inksOf(await buildPrint(await readJob(path, reading), reading))
    : (await readMotif(path, reading)).inks;
}

/** The inks of several files as one list, most used first, ties by ink. */
function addUp(lists: readonly (readonly InkUse[])[]): readonly InkUse[] {
  const uses = new Map<string, number>();
  for (const one of lists.flat()) uses.set(one.ink, (uses.get(one.ink) ?? 0) + one.uses);
  return [...uses]
    .map(([ink, count]) => ({ ink, uses: count }))
    .sort((one, other) => other.uses - one.uses || (one.ink < other.ink ? -1 : 1));
}

/** `repetend inks`. */
export const inks: Command = {
  name: "inks",
  operands: "FILE…",
  summary: "List the inks of motifs or of a job's print, most used first",
  details:
    "FILE is a motif as SVG, or a job. One use is a fill, stroke, gradient stop or ground.\n" +
    "The first column of a table of colourways holds these inks.",
  options: { json: { type: "boolean", help: '{ "inks": [{ "ink", "uses" }] } on stdout' } },
  count: { least: 1, most: Number.POSITIVE_INFINITY },
  run: async ({ files, flags }, { stdout, signal }) => {
    const lists: (readonly InkUse[])[] = [];
    for (const file of files) {
      signal?.throwIfAborted();
      lists.push(await readInks(file, signal === undefined ? {} : { signal }));
    }
    const all = addUp(lists);
    if (flags.has("json")) stdout.write(`${JSON.stringify({ inks: all }, null, 2)}\n`);
    else for (const { ink, uses } of all) stdout.write(`${ink}  ${uses}\n`);
    return EXIT.done;
  },
};
