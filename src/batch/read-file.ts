import { open } from "node:fs/promises";
import { codeOf } from "../emit/index.js";
import { RepetendError } from "../errors.js";

const REASONS: Readonly<Record<string, string>> = {
  EACCES: "permission is missing",
  EISDIR: "it is a folder",
  ENOENT: "there is no such file",
  ENOTDIR: "a part of the path is not a folder",
};

/**
 * Reads a file whole.
 *
 * @param limit the most bytes that are read.
 * @throws `RepetendError` E_READ when it cannot be read, E_LIMIT when it is larger than the limit.
 */
export async function readBytes(path: string, limit: number): Promise<Uint8Array> {
  try {
    const file = await open(path, "r");
    try {
      const { size } = await file.stat();
      if (size > limit) {
        throw new RepetendError("E_LIMIT", "the file is too large", {
          input: path,
          value: `${size} bytes`,
          accepted: `at most ${limit} bytes`,
        });
      }
      return await file.readFile();
    } finally {
      await file.close();
    }
  } catch (error) {
    if (error instanceof RepetendError) throw error;
    const code = codeOf(error) ?? "";
    throw new RepetendError("E_READ", `cannot read: ${REASONS[code] ?? code}`, { input: path, cause: error });
  }
}

/**
 * Reads a text file as UTF-8, without its byte-order mark.
 *
 * @param limit the most bytes that are read.
 * @throws `RepetendError` E_READ when it cannot be read, E_ENCODING when it is not UTF-8, E_LIMIT when it is
 * larger than the limit.
 */
export async function readText(path: string, limit: number): Promise<string> {
  const bytes = await readBytes(path, limit);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch (error) {
    throw new RepetendError("E_ENCODING", "the file is not UTF-8 text", { input: path, cause: error });
  }
}
