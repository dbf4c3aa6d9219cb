import { readdir, rm, stat } from "node:fs/promises";
import { join } from "node:path";
import { aText } from "../../checks.js";
import { codeOf, temporaryPrefix } from "../../emit/index.js";

/** A temporary of another machine is left alone for a day: its process may still be at work. */
const FOREIGN_AGE = 24 * 60 * 60 * 1000;

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return codeOf(error) === "EPERM";
  }
}

/** Whether the run that made this temporary is over. */
async function isStray(folder: string, name: string): Promise<boolean> {
  const [, machine = "", pid = ""] = /^\.repetend-([A-Za-z0-9_]+)-(\d+)-/.exec(name) ?? [];
  if (pid === "") return false;
  const made = await stat(join(folder, name)).then(
    (entry) => entry.mtimeMs,
    () => undefined,
  );
  if (made === undefined) return false;
  if (!temporaryPrefix().startsWith(`.repetend-${machine}-`)) return Date.now() - made > FOREIGN_AGE;
  // A container's processes share their numbers from run to run: a file older than this process is not its own.
  if (Number(pid) === process.pid) return made < Date.now() - process.uptime() * 1000;
  return !isAlive(Number(pid));
}

/**
 * Removes what dead runs left behind in a folder: temporaries of `writeAtomically` whose process is gone, or those of
 * another machine after a day. Files under their final names are never touched.
 *
 * @returns the names that were removed, in order.
 */
export async function clearStrays(folder: string): Promise<readonly string[]> {
  aText(folder, "folder");
  const names = await readdir(folder).catch((): string[] => []);
  const removed: string[] = [];
  for (const name of names.filter((one) => one.startsWith(".repetend-")).sort()) {
    if (await isStray(folder, name)) {
      await rm(join(folder, name), { force: true });
      removed.push(name);
    }
  }
  return removed;
}
