import { readFile, stat } from "node:fs/promises";
import { basename, join } from "node:path";
import type { PlannedFile } from "../../emit/index.js";
import type { Manifest } from "../manifest.js";

/** What an earlier run made in a folder and this one does not make. */
export interface LeftBehind {
  /** The print of the earlier run. */
  readonly print: string;
  /** The names of its files that still stand there, in the order of its manifest. */
  readonly files: readonly string[];
}

const isFile = (path: string): Promise<boolean> =>
  stat(path).then(
    (entry) => entry.isFile(),
    () => false,
  );

/**
 * Finds files that the folder's manifest names and this run will not make: those of a colourway that was taken out, or
 * of another job. They stay, but no manifest will name them any more, and a mill must not be sent them by mistake.
 */
export async function findLeftBehind(
  out: string,
  manifestName: string,
  planned: readonly PlannedFile[],
): Promise<LeftBehind | undefined> {
  const paths = new Set(planned.map(({ path }) => path));
  try {
    const { print, files = [] } = JSON.parse(
      await readFile(join(out, manifestName), "utf8"),
    ) as Partial<Manifest>;
    const others = files
      .map(({ path }) => path)
      .filter((path) => typeof path === "string" && path === basename(path) && !paths.has(path));
    const standing = await Promise.all(others.map((path) => isFile(join(out, path))));
    const left = others.filter((_, at) => standing[at]);
    return typeof print === "string" && left.length > 0 ? { print, files: left } : undefined;
  } catch {
    // No manifest, or none of ours.
    return undefined;
  }
}
