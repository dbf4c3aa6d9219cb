import { createHash } from "node:crypto";
import { readVersions } from "./version.js";

/** A kind of machine: those of one kind make the same bytes, and only they share a queue. */
export interface QueueKind {
  /** The queue's name. */
  readonly name: string;
  /** For a person. */
  readonly words: string;
}

/**
 * The kind of this machine: everything whose version shows in the bytes of bands. The renderer takes roots and sines from
 * the system's library, and the compressor looks for repetitions by instructions of the processor, so that both count.
 */
export async function readQueueKind(): Promise<QueueKind> {
  const [version, renderer, zlib] = await readVersions();
  const { default: sharp } = await import("sharp"); // converts into the inks of a press
  const words = [
    `repetend ${version}`,
    `renderer ${renderer}`,
    `zlib ${zlib}`,
    `colour engine ${sharp.versions.lcms ?? sharp.versions.vips}`,
    `${process.platform} ${process.arch}`,
  ].join(", ");
  return { name: `bands-${createHash("sha256").update(words).digest("hex").slice(0, 16)}`, words };
}
