import type { JobProgress } from "../batch/index.js";
import type { TextSink } from "./command.js";
import { describeTime } from "./words.js";

/** Shows how far a job is. */
export interface ProgressWriter {
  readonly show: (progress: JobProgress) => void;
  /** Takes the bar off the terminal; to be called whatever happens. */
  readonly end: () => void;
}

const BAR = 24;

/** How far a job is, by pixels; files without pixels count as one. */
interface Count {
  readonly share: number;
  /** Pixels that were drawn by this run, and those that are still to be drawn. */
  readonly drawn: number;
  readonly left: number;
  readonly path: string;
}

function makeCounter(): (progress: JobProgress) => Count | undefined {
  const weights = new Map<string, number>();
  const done = new Map<string, number>();
  let kept = 0;
  const sum = (values: Iterable<number>) => [...values].reduce((total, value) => total + value, 0);
  return (progress) => {
    if (progress.kind === "planned") {
      for (const file of progress.plan.files) weights.set(file.path, (file.width ?? 1) * (file.height ?? 1));
    }
    if (progress.kind === "kept") {
      const weight = weights.get(progress.file.path) ?? 0;
      kept += weight;
      done.set(progress.file.path, weight);
    }
    if (progress.kind !== "rows") return undefined;
    done.set(progress.path, (weights.get(progress.path) ?? 0) * (progress.done / progress.total));
    const [all, drawn] = [sum(weights.values()), sum(done.values())];
    return { share: drawn / Math.max(1, all), drawn: drawn - kept, left: all - drawn, path: progress.path };
  };
}

/** A rate says nothing in the first moments. */
const LEAST_MILLISECONDS = 500;

/** "12.3 Mpx/s, 40 s left", as soon as it can be told. */
function describeRate({ drawn, left }: Count, milliseconds: number): string {
  if (milliseconds < LEAST_MILLISECONDS || drawn < 1) return "";
  const rate = drawn / (milliseconds / 1000);
  return `${(rate / 1e6).toFixed(1)} Mpx/s, ${describeTime(left / rate)} left  `;
}

/** A bar that is written over itself. */
function terminalBar(sink: TextSink, now: () => number): ProgressWriter {
  const count = makeCounter();
  let shown = "";
  let start: number | undefined;
  return {
    show: (progress) => {
      const state = count(progress);
      if (state === undefined) return;
      start ??= now();
      const filled = Math.floor(state.share * BAR);
      const percent = String(Math.floor(state.share * 100)).padStart(3);
      const rate = describeRate(state, now() - start);
      const line = `[${"=".repeat(filled)}${" ".repeat(BAR - filled)}] ${percent} % ${rate}${state.path}`;
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
 * A writer of progress: JSON lines for scripts, a bar with rate and remaining time on a terminal, nothing in a pipe.
 *
 * @param now a clock in milliseconds.
 */
export function progressWriter(
  sink: TextSink,
  asJson: boolean,
  now: () => number = () => performance.now(),
): ProgressWriter {
  if (asJson) {
    return {
      show: (progress) => sink.write(`${JSON.stringify({ event: progress.kind, ...progress })}\n`),
      end: () => {},
    };
  }
  return sink.isTTY === true ? terminalBar(sink, now) : { show: () => {}, end: () => {} };
}
