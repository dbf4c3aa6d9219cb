import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";

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

/**
 * From Linux's /proc (proc(5)): only what the process has started itself is looked at, since a look at all processes of
 * the machine takes a millisecond, which what works on all cores would pay for and what works on one would not.
 */
function residentPages(root: number): number {
  let sum = 0;
  const waiting = [root];
  for (const pid of waiting) {
    try {
      sum += Number(readFileSync(`/proc/${pid}/statm`, "utf8").split(" ")[1]);
      const children = readFileSync(`/proc/${pid}/task/${pid}/children`, "utf8");
      waiting.push(...children.split(" ").filter(Boolean).map(Number));
    } catch {
      // It ended meanwhile.
    }
  }
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
