import { spawn } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";

/** The middle value; the mean of the middle two for an even count. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((one, other) => one - other);
  const middle = sorted.length / 2;
  const low = sorted[Math.ceil(middle) - 1] ?? Number.NaN;
  const high = sorted[Math.floor(middle)] ?? Number.NaN;
  return (low + high) / 2;
}

/** Wall seconds that a piece of work takes. */
export async function seconds(work: () => unknown): Promise<number> {
  const start = performance.now();
  await work();
  return (performance.now() - start) / 1000;
}

/** A whole process, from outside. */
export interface ProcessFigures {
  readonly seconds: number;
  /** Peak of the resident memory of the process and all its descendants together, in MB, sampled every 25 ms. */
  readonly peakMemory: number;
  readonly output: string;
}

function residentPages(root: number): number {
  const parents = new Map<number, number>();
  const pages = new Map<number, number>();
  for (const entry of readdirSync("/proc")) {
    const pid = Number(entry);
    if (!Number.isInteger(pid)) continue;
    try {
      const stat = readFileSync(`/proc/${pid}/stat`, "utf8");
      const fields = stat.slice(stat.lastIndexOf(")") + 2).split(" ");
      parents.set(pid, Number(fields[1]));
      pages.set(pid, Number(fields[21]));
    } catch {
      // It ended between the listing and the reading.
    }
  }
  const belongs = (pid: number): boolean => {
    for (let at: number | undefined = pid; at !== undefined && at > 1; at = parents.get(at))
      if (at === root) return true;
    return false;
  };
  let sum = 0;
  for (const [pid, count] of pages) if (belongs(pid)) sum += count;
  return sum;
}

/**
 * Runs a file of this folder as a process of its own, with one JSON argument; prints must be its result. TypeScript
 * takes a loader, which works and takes memory too: what measures memory is a `.mjs` that imports what is built.
 */
export function runProcess(file: string, argument: unknown): Promise<ProcessFigures> {
  return new Promise((resolve, reject) => {
    const start = performance.now();
    const loader = file.endsWith(".mjs") ? [] : ["--import", "tsx"];
    const child = spawn(process.execPath, [...loader, file, JSON.stringify(argument)], {
      stdio: ["ignore", "pipe", "inherit"],
    });
    let output = "";
    let peak = 0;
    const timer = setInterval(() => {
      if (child.pid !== undefined) peak = Math.max(peak, residentPages(child.pid));
    }, 25);
    child.stdout.on("data", (chunk: Buffer) => {
      output += chunk.toString("utf8");
    });
    child.on("error", reject);
    child.on("close", (code) => {
      clearInterval(timer);
      const figures = {
        seconds: (performance.now() - start) / 1000,
        peakMemory: (peak * 4096) / 1e6,
        output,
      };
      if (code === 0) resolve(figures);
      else reject(new Error(`${file} ended with ${code}`));
    });
  });
}
