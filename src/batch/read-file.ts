import { RepetendError } from "../errors.js";
import { readWithin } from "../raster/read-within.js";

/**
 * Reads a file whole.
 *
 * @param limit the most bytes that are read.
 * @throws `RepetendError` E_READ when it cannot be read, E_LIMIT when it is larger than the limit.
 */
export function readBytes(path: string, limit: number): Promise<Uint8Array> {
  return readWithin(path, limit);
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
