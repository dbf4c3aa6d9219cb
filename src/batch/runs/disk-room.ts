import { statfs } from "node:fs/promises";
import { dirname, resolve } from "node:path";
import type { TilePlanOptions } from "../../emit/index.js";
import { RepetendError } from "../../errors.js";
import type { JobPlan } from "../manifest.js";
import type { FinishedFile } from "./finished.js";

/** Deflate shortens no data to less than this share of it (zlib's technical notes: about 1 to 1030). */
const LEAST_SHARE = 1 / 1032;

/** Uncompressed, a place in a palette takes half a byte where a pixel could take four. */
const LEAST_PLAIN = 1 / 8;

/** The bytes that are free where a folder is, or will be made; all there may be where the system does not say. */
async function freeAt(folder: string): Promise<number> {
  const above = dirname(folder);
  try {
    const { bavail, bsize } = await statfs(folder);
    return bavail * bsize;
  } catch {
    return above === folder ? Number.POSITIVE_INFINITY : freeAt(above);
  }
}

/**
 * Refuses a job whose files cannot fit on the disk, however well they compress. What may or may not fit is found when it is
 * written: a full disk leaves the old file whole.
 *
 * @throws `RepetendError` E_WRITE with the folder, the room and what is needed at least.
 */
export async function checkRoom(
  out: string,
  { files }: JobPlan,
  finished: readonly FinishedFile[],
  { compression }: TilePlanOptions,
): Promise<void> {
  const done = new Set(finished.map(({ file }) => file.path));
  const needed = files
    .filter(({ path }) => !done.has(path))
    .reduce((sum, { format, uncompressed = 0 }) => {
      const isPlain = format === "tiff" && compression === "none";
      return sum + uncompressed * (isPlain ? LEAST_PLAIN : LEAST_SHARE);
    }, 0);
  const room = await freeAt(resolve(out));
  if (needed <= room) return;
  const megabytes = (bytes: number) => `${Math.ceil(bytes / 1e6)} MB`;
  throw new RepetendError("E_WRITE", "the disk has no room for the files", {
    input: out,
    value: `${megabytes(room)} free`,
    accepted: `${megabytes(needed)} at least`,
  });
}
