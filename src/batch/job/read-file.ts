import { access, readdir } from "node:fs/promises";
import { basename, dirname } from "node:path";
import { aNumber, aSignal, aText, maybe } from "../../checks.js";
import { codeOf } from "../../emit/index.js";
import { RepetendError } from "../../errors.js";
import { readWithin } from "../../raster/read-within.js";
import { suggest } from "./did-you-mean.js";

/** How files are read. */
export interface ReadOptions {
  /** Stops waiting for a pipe. */
  readonly signal?: AbortSignal;
}

/** "; did you mean …?" for a file that is not there: its path with slashes, or the name in its folder that is nearest. */
async function suggestFile(path: string): Promise<string> {
  const slashed = path.replaceAll("\\", "/");
  if (slashed !== path) {
    const stands = await access(slashed).then(
      () => true,
      () => false,
    );
    if (stands) return `; did you mean "${slashed}"?`;
  }
  const folder = dirname(path);
  const names = await readdir(folder).catch((): string[] => []);
  return suggest(basename(path), names);
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
  try {
    return await readWithin(path, limit, signal);
  } catch (error) {
    if (!(error instanceof RepetendError) || codeOf(error.cause) !== "ENOENT") throw error;
    const problem = `${error.problem}${await suggestFile(path)}`;
    throw new RepetendError(error.code, problem, { input: path, cause: error.cause });
  }
}

const TEXT = "plain text in UTF-8; a table from a spreadsheet saved as CSV in UTF-8";

/** What a file is that is not UTF-8, by how it begins. */
function describeBytes([first = 0, second = 0, third = 0]: Uint8Array): string | undefined {
  if (first === 0x50 && second === 0x4b && third === 0x03)
    return "the file is packed (ZIP), as spreadsheets are";
  if ((first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff)) return "the file is UTF-16";
  return undefined;
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
  const refuse = (problem: string, cause?: unknown) =>
    new RepetendError("E_ENCODING", problem, { input: path, accepted: TEXT, cause });
  const other = describeBytes(bytes);
  if (other !== undefined) throw refuse(`${other}, not text in UTF-8`);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch (error) {
    throw refuse("the file is not UTF-8 text", error);
  }
}
