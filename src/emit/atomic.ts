import { createHash, randomUUID } from "node:crypto";
import { type FileHandle, mkdir, open, readdir, rename, rm, stat } from "node:fs/promises";
import { hostname } from "node:os";
import { dirname, join, resolve } from "node:path";
import { RepetendError } from "../errors.js";

/** What a file that was written holds. */
export interface WrittenFile {
  readonly path: string;
  readonly bytes: number;
  /** Hexadecimal. */
  readonly sha256: string;
}

/** Where {@link writeAtomically} takes its bytes. */
export interface FileSink {
  /** Appends bytes, or text as UTF-8. */
  readonly write: (bytes: Uint8Array | string) => Promise<void>;
}

/** Every temporary file of this package starts so; the next parts are the machine and the process. */
const TEMPORARY = ".repetend-";

/** A temporary of another machine is left alone for a day: its process may still be at work. */
const FOREIGN_AGE = 24 * 60 * 60 * 1000;

const host = (): string => hostname().replace(/[^A-Za-z0-9]/g, "_") || "host";

const codeOf = (error: unknown): string | undefined =>
  error instanceof Error && "code" in error && typeof error.code === "string" ? error.code : undefined;

const REASONS: Readonly<Record<string, string>> = {
  EACCES: "permission is missing",
  EDQUOT: "the quota is used up",
  EFBIG: "the file system does not hold files of this size",
  EISDIR: "a folder of this name stands there",
  ENAMETOOLONG: "the name is too long",
  ENOENT: "the folder does not exist",
  ENOSPC: "the disk is full",
  ENOTDIR: "a part of the path is not a folder",
  EPERM: "the system does not allow it",
  EROFS: "the file system is read-only",
};

/** The refusal for a file system's error; any other error stays as it is. */
function writeError(error: unknown, path: string): unknown {
  const code = codeOf(error);
  if (error instanceof RepetendError || code === undefined || !/^E[A-Z]+$/.test(code)) return error;
  return new RepetendError("E_WRITE", `cannot write: ${REASONS[code] ?? code}`, {
    input: path,
    cause: error,
  });
}

async function writeAll(handle: FileHandle, bytes: Uint8Array): Promise<void> {
  let at = 0;
  while (at < bytes.length) at += (await handle.write(bytes, at)).bytesWritten;
}

/** Makes the new name last through a power cut; some systems cannot, and the file itself is safe already. */
async function syncFolder(path: string): Promise<void> {
  const folder = await open(path, "r").catch(() => undefined);
  await folder?.sync().catch(() => {});
  await folder?.close();
}

/**
 * Writes a file so that under its name there is either the old one or the whole new one: a temporary file in the same
 * folder, flushed to the disk, then renamed. On any failure the temporary is removed and the old file stays.
 *
 * @param path the file's final name; its folder must exist.
 * @param write hands the bytes to the sink, in order; what it throws is thrown on.
 * @throws {@link RepetendError} E_WRITE with the path, where the file system refuses.
 *
 * @example
 * ```ts
 * import { writeAtomically } from "repetend/emit";
 * import { tmpdir } from "node:os";
 * import { join } from "node:path";
 * const file = await writeAtomically(join(tmpdir(), "tides.csv"), (sink) => sink.write("ink,Low Tide\n"));
 * console.log(file.bytes); // 13
 * ```
 */
export async function writeAtomically(
  path: string,
  write: (sink: FileSink) => Promise<void>,
): Promise<WrittenFile> {
  const temporary = join(dirname(resolve(path)), `${TEMPORARY}${host()}-${process.pid}-${randomUUID()}`);
  try {
    const handle = await open(temporary, "wx");
    try {
      const hash = createHash("sha256");
      let size = 0;
      await write({
        write: async (part) => {
          const bytes = typeof part === "string" ? Buffer.from(part, "utf8") : part;
          hash.update(bytes);
          size += bytes.length;
          await writeAll(handle, bytes);
        },
      });
      await handle.sync();
      await handle.close();
      await rename(temporary, path);
      await syncFolder(dirname(temporary));
      return { path, bytes: size, sha256: hash.digest("hex") };
    } catch (error) {
      await handle.close().catch(() => {});
      await rm(temporary, { force: true });
      throw error;
    }
  } catch (error) {
    throw writeError(error, path);
  }
}

/**
 * Makes a folder and those above it, where they are missing.
 *
 * @throws {@link RepetendError} E_WRITE with the path, where the file system refuses.
 */
export async function makeFolder(path: string): Promise<void> {
  try {
    await mkdir(path, { recursive: true });
  } catch (error) {
    throw codeOf(error) === "EEXIST"
      ? new RepetendError("E_WRITE", "cannot write: a file stands where a folder is wanted", {
          input: path,
          cause: error,
        })
      : writeError(error, path);
  }
}

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
  if (machine !== host()) return Date.now() - made > FOREIGN_AGE;
  // A container's processes share their numbers from run to run: a file older than this process is not its own.
  if (Number(pid) === process.pid) return made < Date.now() - process.uptime() * 1000;
  return !isAlive(Number(pid));
}

/**
 * Removes what dead runs left behind in a folder: temporaries of {@link writeAtomically} whose process is gone, or
 * those of another machine after a day. Files under their final names are never touched.
 *
 * @returns the names that were removed, in order.
 */
export async function clearStrays(folder: string): Promise<readonly string[]> {
  const names = await readdir(folder).catch((): string[] => []);
  const removed: string[] = [];
  for (const name of names.filter((one) => one.startsWith(TEMPORARY)).sort()) {
    if (await isStray(folder, name)) {
      await rm(join(folder, name), { force: true });
      removed.push(name);
    }
  }
  return removed;
}
