import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { appendFile, readFile, rm, stat } from "node:fs/promises";
import { join } from "node:path";
import { pipeline } from "node:stream/promises";
import type { ManifestFile, PlannedFile } from "../../emit/index.js";
import type { Note } from "../../errors.js";
import type { Manifest } from "../manifest.js";

/** A file that was made, what it was made from, and what was to be said of how. */
export interface FinishedFile {
  /** Of everything that it depends on: see {@link keyOf}. */
  readonly key: string;
  readonly file: ManifestFile;
  readonly notes: readonly Note[];
}

/**
 * Where a run keeps a list of what it has finished, one JSON object a line; the manifest takes its place when the run is
 * done. Each line is written in one piece, so that two runs at once only add to it.
 */
export const FINISHED_NAME = ".repetend-finished";

/** The SHA-256 of data. */
export const keyOf = (...parts: readonly unknown[]): string =>
  createHash("sha256").update(JSON.stringify(parts)).digest("hex");

async function hashFile(path: string): Promise<string> {
  const hash = createHash("sha256");
  await pipeline(createReadStream(path, { highWaterMark: 2 ** 20 }), hash);
  return hash.digest("hex");
}

/** Whether a file stands in the folder as it was written. */
async function isWhole(out: string, { path, bytes, sha256 }: ManifestFile): Promise<boolean> {
  try {
    const { size } = await stat(join(out, path));
    return size === bytes && (await hashFile(join(out, path))) === sha256;
  } catch {
    return false;
  }
}

/** A line that was cut off by a power cut says nothing. */
function readLine(line: string): readonly FinishedFile[] {
  try {
    const { key, file, notes } = JSON.parse(line) as Partial<FinishedFile>;
    const isRead = typeof key === "string" && typeof file?.path === "string" && Array.isArray(notes);
    return isRead ? [{ key, file, notes }] : [];
  } catch {
    return [];
  }
}

/** Files that are named in the manifest of a run that was done. */
async function readManifestFiles(path: string): Promise<readonly FinishedFile[]> {
  try {
    const { files, madeFrom = {} } = JSON.parse(await readFile(path, "utf8")) as Partial<Manifest>;
    return (files ?? []).flatMap((file) => {
      const made = madeFrom[file.path];
      return made === undefined ? [] : [{ key: made.key, file, notes: made.notes }];
    });
  } catch {
    return [];
  }
}

/**
 * Finds the planned files that stand in the folder already: made by this version from the same inputs, and unchanged
 * since, to the last byte.
 *
 * @param planned each file and its key.
 */
export async function findFinished(
  out: string,
  manifestName: string,
  planned: readonly { readonly file: PlannedFile; readonly key: string }[],
): Promise<readonly FinishedFile[]> {
  const journal = await readFile(join(out, FINISHED_NAME), "utf8").catch(() => "");
  const known = new Map<string, FinishedFile>();
  for (const one of [
    ...(await readManifestFiles(join(out, manifestName))),
    ...journal.split("\n").flatMap(readLine),
  ]) {
    known.set(one.file.path, one);
  }
  const found: FinishedFile[] = [];
  for (const { file, key } of planned) {
    const one = known.get(file.path);
    if (one?.key === key && (await isWhole(out, one.file))) found.push(one);
  }
  return found;
}

/** Adds a file to the list. */
export async function noteFinished(out: string, finished: FinishedFile): Promise<void> {
  await appendFile(join(out, FINISHED_NAME), `${JSON.stringify(finished)}\n`);
}

/** Removes the list, once the manifest is written. */
export async function forgetFinished(out: string): Promise<void> {
  await rm(join(out, FINISHED_NAME), { force: true });
}
