import type { JobProgress } from "../batch/index.js";
import type { TextSink } from "./command.js";

/** Shows how far a job is. */
export interface ProgressWriter {
  readonly show: (progress: JobProgress) => void;
  /** Takes the bar off the terminal; to be called whatever happens. */
  readonly end: () => void;
}

const BAR = 24;

/** How much of all files is done, 0 to 1, by their pixels; files without pixels count as one row. */
function makeCounter(): (
  progress: JobProgress,
) => { readonly share: number; readonly path: string } | undefined {
  const weights = new Map<string, number>();
  const done = new Map<string, number>();
  return (progress) => {
    if (progress.kind === "planned") {
      for (const file of progress.plan.files) weights.set(file.path, (file.width ?? 1) * (file.height ?? 1));
    }
    if (progress.kind !== "rows") return undefined;
    done.set(progress.path, (weights.get(progress.path) ?? 0) * (progress.done / progress.total));
    const sum = (values: Iterable<number>) => [...values].reduce((total, value) => total + value, 0);
    return { share: sum(done.values()) / Math.max(1, sum(weights.values())), path: progress.path };
  };
}

/** A bar that is written over itself. */
function terminalBar(sink: TextSink): ProgressWriter {
  const count = makeCounter();
  let shown = "";
  return {
    show: (progress) => {
      const state = count(progress);
      if (state === undefined) return;
      const filled = Math.floor(state.share * BAR);
      const percent = String(Math.floor(state.share * 100)).padStart(3);
      const line = `[${"=".repeat(filled)}${" ".repeat(BAR - filled)}] ${percent} % ${state.path}`;
      const cut = line.slice(0, Math.max(20, (sink.columns || 80) - 1));
      if (cut !== shown) sink.write(`\r\x1b[K${cut}`);
      shown = cut;
    },
    end: () => {
      if (shown !== "") sink.write("\r\x1b[K");
      shown = "";
    },
  };
}

/**
 * A writer of progress: JSON lines for scripts, a bar on a terminal, nothing in a pipe.
 */
export function progressWriter(sink: TextSink, asJson: boolean): ProgressWriter {
  if (asJson) {
    return {
      show: (progress) => sink.write(`${JSON.stringify({ event: progress.kind, ...progress })}\n`),
      end: () => {},
    };
  }
  return sink.isTTY === true ? terminalBar(sink) : { show: () => {}, end: () => {} };
}
