import type { FileHandle } from "node:fs/promises";
import { aText } from "../checks.js";
import { RepetendError } from "../errors.js";

const REASONS: Readonly<Record<string, string>> = {
  EACCES: "permission is missing",
  EISDIR: "it is a folder",
  ELOOP: "its links go round in a ring",
  ENAMETOOLONG: "the name is too long",
  ENOENT: "there is no such file",
  ERR_INVALID_ARG_VALUE: "a path holds no character U+0000",
  ENOTDIR: "a part of the path is not a folder",
  EPERM: "the system does not allow it",
};

/** So much is asked for at once where a file does not say how long it is. */
const CHUNK = 2 ** 20;

/** How often a pipe is asked again whose writer has written nothing yet, in milliseconds. */
const ASK_AGAIN = 20;

const codeOf = (error: unknown): string =>
  error instanceof Error && "code" in error ? String(error.code) : String(error);

/** The next bytes, 0 at the end. A pipe is waited for here and not in the system, where no signal would reach it. */
async function readMore(
  file: FileHandle,
  room: Uint8Array,
  signal: AbortSignal | undefined,
): Promise<number> {
  while (true) {
    signal?.throwIfAborted();
    try {
      return (await file.read(room, 0, room.length)).bytesRead;
    } catch (error) {
      if (codeOf(error) !== "EAGAIN") throw error;
    }
    await new Promise((resolve) => setTimeout(resolve, ASK_AGAIN));
  }
}

/**
 * Reads a file whole, and never more of it than the limit: a device or a pipe states no size and may have no end. A pipe
 * that nobody writes into is refused.
 *
 * @param limit the most bytes that are read.
 * @param signal stops waiting for a pipe.
 * @throws {@link RepetendError} E_READ when it cannot be read, E_LIMIT when it is larger than the limit. The signal's
 * reason when it stops the reading.
 */
export async function readWithin(path: string, limit: number, signal?: AbortSignal): Promise<Uint8Array> {
  aText(path, "path");
  const tooLarge = (value: string) =>
    new RepetendError("E_LIMIT", "the file is too large", {
      input: path,
      value,
      accepted: `at most ${limit} bytes`,
    });
  const { constants, open } = await import("node:fs/promises");
  if (typeof open !== "function") {
    throw new RepetendError("E_READ", "files are read in Node only", { input: path }); // a bundle for browsers
  }
  try {
    // Plain opening would wait for a pipe's writer, and hold the process even when it is told to end.
    const file = await open(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
    try {
      const stat = await file.stat();
      const size = stat.isFile() ? stat.size : 0;
      if (size > limit) throw tooLarge(`${size} bytes`);
      const pieces: Uint8Array[] = [];
      let total = 0;
      while (true) {
        // One byte more than a file says it has shows its end.
        const room = new Uint8Array(Math.min(limit + 1 - total, Math.max(size + 1 - total, CHUNK)));
        const bytesRead = await readMore(file, room, signal);
        if (bytesRead === 0) break;
        total += bytesRead;
        if (total > limit) throw tooLarge("more bytes than that");
        pieces.push(room.subarray(0, bytesRead));
      }
      if (total === 0 && stat.isFIFO()) {
        throw new RepetendError("E_READ", "cannot read: nothing is written into this pipe", { input: path });
      }
      const [only] = pieces;
      return pieces.length === 1 && only !== undefined ? only : joinPieces(pieces, total);
    } finally {
      await file.close();
    }
  } catch (error) {
    if (error instanceof RepetendError || signal?.aborted === true) throw error;
    const code = codeOf(error);
    throw new RepetendError("E_READ", `cannot read: ${REASONS[code] ?? code}`, { input: path, cause: error });
  }
}

function joinPieces(pieces: readonly Uint8Array[], total: number): Uint8Array {
  const whole = new Uint8Array(total);
  let at = 0;
  for (const piece of pieces) {
    whole.set(piece, at);
    at += piece.length;
  }
  return whole;
}
