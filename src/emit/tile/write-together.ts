import { type FileSink, type WrittenFile, writeAtomically } from "../files/atomic.js";

/**
 * Writes several files side by side from one source; each as {@link writeAtomically} does, and none takes its name
 * before all are whole.
 *
 * @param paths their final names, all different.
 * @param write hands bytes to the sinks, in the order of the paths.
 * @throws `RepetendError` E_WRITE with the path, where the file system refuses.
 */
export async function writeTogether(
  paths: readonly string[],
  write: (sinks: readonly FileSink[]) => Promise<void>,
): Promise<readonly WrittenFile[]> {
  const written: WrittenFile[] = [];
  const open = async (sinks: readonly FileSink[]): Promise<void> => {
    const path = paths[sinks.length];
    if (path === undefined) return write(sinks);
    written[sinks.length] = await writeAtomically(path, (sink) => open([...sinks, sink]));
  };
  await open([]);
  return written;
}
