import { createHash } from "node:crypto";
import { readVersions } from "../version.js";

/** A kind of machine: those of one kind make the same bytes, and only they share a queue. */
export interface QueueKind {
  /** The queue's name. */
  readonly name: string;
  /** For a person. */
  readonly words: string;
}

/** What Node's report says of the C library: glibc's version where that is the one. */
export interface ReportHeader {
  readonly glibcVersionRuntime?: string;
}

/** Node's report of this process, without the names of the network, which it would look up. */
function readReport(): ReportHeader {
  const report: NodeJS.ProcessReport & { excludeNetwork?: boolean } = process.report;
  const { excludeNetwork = false } = report;
  report.excludeNetwork = true;
  try {
    const { header } = report.getReport() as { readonly header: ReportHeader };
    return header;
  } finally {
    report.excludeNetwork = excludeNetwork;
  }
}

/** The system's library, of which Linux has several: "glibc 2.36", or musl, which does not say its version. */
export function nameLibrary(platform: string, read: () => ReportHeader = readReport): string | undefined {
  if (platform !== "linux") return undefined;
  const { glibcVersionRuntime: version } = read();
  return version === undefined ? "musl" : `glibc ${version}`;
}

/**
 * The kind of this machine: everything whose version shows in the bytes of bands. The renderer takes roots and sines from
 * the system's library, and the compressor looks for repetitions by instructions of the processor, so that both count.
 */
export async function readQueueKind(
  library: string | undefined = nameLibrary(process.platform),
): Promise<QueueKind> {
  const [version, renderer, zlib] = await readVersions();
  const { default: sharp } = await import("sharp"); // converts into the inks of a press
  const words = [
    `repetend ${version}`,
    `renderer ${renderer}`,
    `zlib ${zlib}`,
    `colour engine ${sharp.versions.lcms ?? sharp.versions.vips}`,
    [process.platform, process.arch, library].filter(Boolean).join(" "),
  ].join(", ");
  return { name: `bands-${createHash("sha256").update(words).digest("hex").slice(0, 16)}`, words };
}
