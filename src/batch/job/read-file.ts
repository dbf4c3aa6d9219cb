import { aNumber, aSignal, aText, maybe } from "../../checks.js";
import { RepetendError } from "../../errors.js";
import { readWithin } from "../../raster/read-within.js";

/** How files are read. */
export interface ReadOptions {
  /** Stops waiting for a pipe. */
  readonly signal?: AbortSignal;
}

/**
 * Reads a file whole.
 *
 * @param limit the most bytes that are read.
 * @param signal stops waiting for a pipe.
 * @throws `RepetendError` E_READ when it cannot be read, E_LIMIT when it is larger than the limit.
 */
export async function readBytes(path: string, limit: number, signal?: AbortSignal): Promise<Uint8Array> {
  aText(path, "path");
  aNumber(limit, "limit");
  maybe(aSignal)(signal, "signal");
  return readWithin(path, limit, signal);
}

/**
 * Reads a text file as UTF-8, without its byte-order mark.
 *
 * @param limit the most bytes that are read.
 * @param signal stops waiting for a pipe.
 * @throws `RepetendError` E_READ when it cannot be read, E_ENCODING when it is not UTF-8, E_LIMIT when it is
 * larger than the limit.
 */
export async function readText(path: string, limit: number, signal?: AbortSignal): Promise<string> {
  const bytes = await readBytes(path, limit, signal);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch (error) {
    throw new RepetendError("E_ENCODING", "the file is not UTF-8 text", { input: path, cause: error });
  }
}
