import { createHash } from "node:crypto";
import { type FileHandle, mkdir, open, rename, rm, stat } from "node:fs/promises";
import { hostname } from "node:os";
import { dirname, join, resolve } from "node:path";
import { aFunction, aText } from "../../checks.js";
import { RepetendError } from "../../errors.js";

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
  /** Overwrites bytes inside what was written so far, from a position counted from the start of the file. */
  readonly patch: (position: number, bytes: Uint8Array) => Promise<void>;
}

/**
 * How the temporary files of this process start: all of this package's are `.repetend-`, the machine, the process, and
 * a number.
 */
export const temporaryPrefix = (): string =>
  `.repetend-${hostname().replace(/[^A-Za-z0-9]/g, "_") || "host"}-${process.pid}-`;

/** The code of a system's error, for example "ENOENT". */
export const codeOf = (error: unknown): string | undefined =>
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

/** What no system takes as a path would be thrown as Node's own error. */
function checkPath(path: string): void {
  aText(path, "path");
  if (!path.includes("\0")) return;
  throw new RepetendError("E_WRITE", "cannot write: a path holds no character U+0000", { value: path });
}

/** So much of a file is read at once to hash it. */
const HASHED_AT_ONCE = 2 ** 20;

/** Opens a new temporary file beside a path, with the first number that is free. */
export async function openTemporary(
  path: string,
): Promise<{ readonly temporary: string; readonly handle: FileHandle }> {
  for (let number = 1; ; number++) {
    const temporary = join(dirname(resolve(path)), `${temporaryPrefix()}${number}`);
    try {
      return { temporary, handle: await open(temporary, "wx+") };
    } catch (error) {
      if (codeOf(error) !== "EEXIST") throw error;
    }
  }
}

/** Writes all bytes at a position; a system may take fewer at a time, above all where a disk is nearly full. */
export async function writeAll(handle: FileHandle, bytes: Uint8Array, position: number): Promise<void> {
  let at = 0;
  while (at < bytes.length) {
    at += (await handle.write(bytes, at, bytes.length - at, position + at)).bytesWritten;
  }
}

/** The SHA-256 of a whole file, read anew. */
async function hashFile(handle: FileHandle): Promise<string> {
  const hash = createHash("sha256");
  const piece = Buffer.allocUnsafe(HASHED_AT_ONCE);
  let position = 0;
  for (;;) {
    const { bytesRead } = await handle.read(piece, 0, piece.length, position);
    if (bytesRead === 0) return hash.digest("hex");
    hash.update(piece.subarray(0, bytesRead));
    position += bytesRead;
  }
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
 * @throws `RepetendError` E_WRITE with the path, where the file system refuses.
 *
 * @example
 * ```ts
 * import { writeAtomically } from "repetend/emit";
 * import { tmpdir } from "node:os";
 * import { join } from "node:path";
 * const file = await writeAtomically(join(tmpdir(), "tides.csv"), (sink) => sink.write("ink,Low Tide\n"));
 * file.bytes; // 13
 * ```
 */
export async function writeAtomically(
  path: string,
  write: (sink: FileSink) => Promise<void>,
): Promise<WrittenFile> {
  checkPath(path);
  aFunction(write, "write");
  try {
    const { temporary, handle } = await openTemporary(path);
    try {
      const hash = createHash("sha256");
      let size = 0;
      let isPatched = false;
      await write({
        write: async (part) => {
          const bytes = typeof part === "string" ? Buffer.from(part, "utf8") : part;
          hash.update(bytes);
          const position = size;
          size += bytes.length;
          await writeAll(handle, bytes, position);
        },
        patch: async (position, bytes) => {
          if (!Number.isInteger(position) || position < 0 || position + bytes.length > size) {
            throw new RepetendError("E_NUMBER", "bytes can be overwritten inside what was written only", {
              value: `${bytes.length} bytes from ${position}`,
              accepted: `0 to ${size}`,
            });
          }
          isPatched = true;
          await writeAll(handle, bytes, position);
        },
      });
      await handle.sync();
      const sha256 = isPatched ? await hashFile(handle) : hash.digest("hex");
      await handle.close();
      await rename(temporary, path);
      await syncFolder(dirname(temporary));
      return { path, bytes: size, sha256 };
    } catch (error) {
      await handle.close().catch(() => {});
      await rm(temporary, { force: true });
      throw error;
    }
  } catch (error) {
    throw writeError(error, path);
  }
}

/** Makes one folder, or finds it there. Node's recursive `mkdir` never ends where a file system refuses. */
async function makeOne(path: string): Promise<void> {
  try {
    await mkdir(path);
  } catch (error) {
    const isThere = await stat(path).then(
      (entry) => entry.isDirectory(),
      () => false,
    );
    if (!isThere) throw error;
  }
}

async function makeAll(path: string): Promise<void> {
  try {
    await makeOne(path);
  } catch (error) {
    const parent = dirname(path);
    if (codeOf(error) !== "ENOENT" || parent === path) throw error;
    await makeAll(parent);
    await makeOne(path);
  }
}

/**
 * Makes a folder and those above it, where they are missing.
 *
 * @throws `RepetendError` E_WRITE with the path, where the file system refuses.
 */
export async function makeFolder(path: string): Promise<void> {
  checkPath(path);
  try {
    await makeAll(resolve(path));
  } catch (error) {
    throw codeOf(error) === "EEXIST"
      ? new RepetendError("E_WRITE", "cannot write: a file stands where a folder is wanted", {
          input: path,
          cause: error,
        })
      : writeError(error, path);
  }
}
