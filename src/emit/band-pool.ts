import { type ChildProcess, fork } from "node:child_process";
import { availableParallelism } from "node:os";
import { env } from "node:process";
import { fileURLToPath } from "node:url";
import { serialize } from "node:v8";
import { RepetendError } from "../errors.js";
import type { PixelImage } from "../image/index.js";
import type { Engine } from "../raster/index.js";
import type { BandMaker } from "./band-maker.js";
import { type BandWork, type MadeBands, namesInTask } from "./band-work.js";
import { EXIT_MEMORY, type WorkerAnswer, type WorkerFailure, type WorkerTask } from "./worker-words.js";

/** How a pool of processes works. */
export interface BandPoolOptions {
  /** How many processes at most, 1 or more. Default: as many as there are cores. */
  readonly workers?: number;
  /** For all processes together, in bytes: bounds how many there are, and how large each may grow. Default: none. */
  readonly memory?: number;
  /** For one band, in seconds, above 0. Default 120. */
  readonly timeLimit?: number;
  /** Default "native". */
  readonly engine?: "native" | "wasm";
  /** The program of the processes. Default: the package's own. */
  readonly program?: URL;
}

/**
 * What one process takes at most, measured on tiles of 3,780 px: 210 MB for the bands of one colourway, 295 MB for those of
 * twenty-four; and what the one that leads them takes.
 */
const WORKER_BYTES = { least: 190 * 2 ** 20, usual: 285 * 2 ** 20 };
const LEADER_BYTES = 110 * 2 ** 20;

/** A process that has grown to this share of its limit is replaced by a new one. */
const REPLACE_AT = 0.95;

/** Where no budget is given, a process that grows beyond this is beyond hope: 3 GiB. */
const MEMORY_LIMIT = 3 * 2 ** 30;

const TIME_LIMIT = 120;

/** One task, waiting or under way. */
interface Errand {
  readonly work: BandWork | undefined;
  readonly task: WorkerTask;
  /** What is being drawn, for a person. */
  readonly where: () => string;
  readonly resolve: (result: unknown) => void;
  readonly reject: (reason: unknown) => void;
  tries: number;
}

/** A process, and what it is at. */
interface Worker {
  readonly child: ChildProcess;
  /** The works it was sent. */
  key: number | undefined;
  errand: Errand | undefined;
  timer: NodeJS.Timeout | undefined;
  /** Why it was ended by the pool. */
  ended: string | undefined;
}

/**
 * A process draws one band at a time: it needs one thread beside its own. And the native renderer's allocator (mimalloc)
 * keeps what was freed instead of giving it back: half of a rendering's time went into taking fresh memory.
 */
const WORKER_ENVIRONMENT = { UV_THREADPOOL_SIZE: "1", MIMALLOC_PURGE_DELAY: "-1" };

/** Tasks are tried so often: what fails twice fails always. */
const TRIES = 2;

const errorOf = ({ message, refusal }: WorkerFailure): Error => {
  if (refusal === undefined) return new Error(message);
  const { code, problem, ...facts } = refusal;
  const known = Object.entries(facts).filter(([, value]) => value !== undefined);
  return new RepetendError(code, problem, Object.fromEntries(known));
};

function readBudget({ workers = availableParallelism(), memory }: BandPoolOptions): {
  readonly count: number;
  readonly limit: number;
} {
  if (!Number.isInteger(workers) || workers < 1) {
    throw new RepetendError("E_NUMBER", "there is at least one worker process", {
      where: "workers",
      value: String(workers),
      accepted: "a whole number from 1 on",
    });
  }
  if (memory === undefined) return { count: workers, limit: MEMORY_LIMIT };
  if (!(memory >= LEADER_BYTES + WORKER_BYTES.least)) {
    throw new RepetendError("E_NUMBER", "the memory is too small for one worker process", {
      where: "memory",
      value: `${Math.floor(memory / 2 ** 20)} MB`,
      accepted: `${Math.ceil((LEADER_BYTES + WORKER_BYTES.least) / 2 ** 20)} MB or more`,
    });
  }
  const fit = Math.floor((memory - LEADER_BYTES) / WORKER_BYTES.usual);
  const count = Math.min(workers, Math.max(1, fit));
  return { count, limit: (memory - LEADER_BYTES) / count };
}

/**
 * Processes that draw and compress bands. Each is apart from the others and from this one: a renderer that crashes,
 * hangs or takes all memory ends one process; its task is tried once more in a fresh one, then refused, and the
 * motifs that it was at are named. Close it when done.
 *
 * @example
 * ```ts
 * import { straight } from "repetend";
 * import { BandPool, emitTile } from "repetend/emit";
 * import { mkdtempSync } from "node:fs";
 * import { tmpdir } from "node:os";
 * import { join } from "node:path";
 * const print = straight({ name: "Plain", width: "1in", height: "1in", ground: "#f2ead8", motifs: [] });
 * const pool = new BandPool({ workers: 2 });
 * const dir = mkdtempSync(join(tmpdir(), "tiles-"));
 * const { files } = await emitTile(print, { dpi: 100, dir, formats: ["png"], maker: pool });
 * await pool.close();
 * files.length; // 1
 * ```
 */
export class BandPool implements BandMaker {
  /** How many processes work at most. */
  readonly atOnce: number;
  readonly #limit: number;
  readonly #options: BandPoolOptions;
  readonly #workers = new Set<Worker>();
  readonly #waiting: Errand[] = [];
  readonly #sent = new WeakMap<BandWork, { readonly key: number; readonly bytes: Uint8Array }>();
  #keys = 0;
  #isClosed = false;

  /** @throws `RepetendError` E_NUMBER for options out of range. */
  constructor(options: BandPoolOptions = {}) {
    const { count, limit } = readBudget(options);
    this.atOnce = count;
    this.#limit = limit;
    this.#options = options;
  }

  make(work: BandWork, task: number, signal?: AbortSignal): Promise<MadeBands> {
    const { key } = this.#serialised(work);
    const where = () => namesInTask(work, task);
    return this.#ask(work, { kind: "bands", key, task }, where, signal) as Promise<MadeBands>;
  }

  /** Renders a drawing of this package's own making in a process; see `renderNative`. */
  readonly render: Engine = async (svg, size) => {
    const where = () => `a drawing of ${size.width} x ${size.height} px`;
    return (await this.#ask(undefined, { kind: "render", svg, size }, where)) as PixelImage;
  };

  /** Ends all processes; what is under way is refused. */
  async close(): Promise<void> {
    this.#isClosed = true;
    const reason = new Error("the pool was closed");
    for (const errand of this.#waiting.splice(0)) errand.reject(reason);
    const ends = [...this.#workers].map(
      (worker) =>
        new Promise<void>((resolve) => {
          worker.errand?.reject(reason);
          worker.errand = undefined;
          worker.child.ref(); // an idle process does not keep this one alive, but its end is awaited
          worker.child.once("exit", () => resolve());
          this.#end(worker, "closed");
        }),
    );
    await Promise.all(ends);
  }

  #serialised(work: BandWork): { readonly key: number; readonly bytes: Uint8Array } {
    const known = this.#sent.get(work);
    if (known !== undefined) return known;
    const made = { key: ++this.#keys, bytes: serialize(work) };
    this.#sent.set(work, made);
    return made;
  }

  #ask(
    work: BandWork | undefined,
    task: WorkerTask,
    where: () => string,
    signal?: AbortSignal,
  ): Promise<unknown> {
    return new Promise((resolve, reject) => {
      if (this.#isClosed) throw new Error("the pool was closed");
      signal?.throwIfAborted();
      const stop = (): void => {
        reject(signal?.reason);
        const at = this.#waiting.indexOf(errand);
        if (at >= 0) this.#waiting.splice(at, 1);
        for (const worker of this.#workers) if (worker.errand === errand) this.#end(worker, "stopped");
      };
      const settle =
        <T>(then: (value: T) => void) =>
        (value: T): void => {
          signal?.removeEventListener("abort", stop);
          then(value);
        };
      const errand: Errand = {
        work,
        task,
        where,
        resolve: settle(resolve),
        reject: settle(reject),
        tries: 0,
      };
      signal?.addEventListener("abort", stop, { once: true });
      this.#waiting.push(errand);
      this.#next();
    });
  }

  /** Gives waiting tasks to processes that are free, and starts processes where there are too few. */
  #next(): void {
    while (this.#waiting.length > 0) {
      const idle = [...this.#workers].find((worker) => worker.errand === undefined && !worker.ended);
      const worker = idle ?? (this.#workers.size < this.atOnce ? this.#start() : undefined);
      const errand = worker && this.#waiting.shift();
      if (worker === undefined || errand === undefined) return;
      this.#give(worker, errand);
    }
  }

  #give(worker: Worker, errand: Errand): void {
    const seconds = this.#options.timeLimit ?? TIME_LIMIT;
    worker.errand = errand;
    worker.timer = setTimeout(() => this.#end(worker, `it took more than ${seconds} s`), seconds * 1000);
    worker.child.ref();
    const { task, work } = errand;
    const isNew = task.kind === "bands" && worker.key !== task.key;
    if (isNew && work !== undefined) {
      worker.key = task.key;
      worker.child.send({ ...task, work: this.#serialised(work).bytes });
    } else {
      worker.child.send(task);
    }
  }

  #start(): Worker {
    const own = new URL(
      import.meta.url.endsWith(".ts") ? "./band-worker.ts" : "./band-worker.js",
      import.meta.url,
    );
    const program = fileURLToPath(this.#options.program ?? own);
    const child = fork(program, [this.#options.engine ?? "native", String(Math.floor(this.#limit))], {
      serialization: "advanced",
      stdio: ["ignore", "ignore", "ignore", "ipc"],
      env: { ...env, ...WORKER_ENVIRONMENT }, // handed on only: nothing here depends on it
      // The sources of this package are run by a loader; what is installed needs none.
      ...(/\.m?ts$/.test(program) ? { execArgv: ["--import", "tsx"] } : { execArgv: [] }),
    });
    const worker: Worker = { child, key: undefined, errand: undefined, timer: undefined, ended: undefined };
    child.on("message", (answer: WorkerAnswer) => this.#take(worker, answer));
    child.on("error", (error) => {
      worker.ended ??= error.message;
    });
    child.on("exit", (code, signal) => this.#lose(worker, code, signal));
    this.#workers.add(worker);
    return worker;
  }

  #take(worker: Worker, answer: WorkerAnswer): void {
    const { errand } = worker;
    clearTimeout(worker.timer);
    worker.errand = undefined;
    if (answer.kind === "done") errand?.resolve(answer.result);
    else errand?.reject(errorOf(answer.error));
    if (answer.kind === "done" && answer.resident > REPLACE_AT * this.#limit) this.#end(worker, "grown");
    this.#next();
    if (worker.errand === undefined) worker.child.unref();
  }

  /** A process is gone: its task is tried once more, and then refused. */
  #lose(worker: Worker, code: number | null, signal: NodeJS.Signals | null): void {
    this.#workers.delete(worker);
    clearTimeout(worker.timer);
    const { errand } = worker;
    worker.errand = undefined;
    if (errand !== undefined && worker.ended !== "stopped") {
      errand.tries++;
      const megabytes = Math.floor(this.#limit / 2 ** 20);
      const reason =
        worker.ended ??
        (code === EXIT_MEMORY
          ? `it took more than ${megabytes} MB`
          : `it ended with ${signal ?? `code ${code}`}`);
      if (errand.tries < TRIES && !this.#isClosed) this.#waiting.unshift(errand);
      else {
        errand.reject(
          new RepetendError("E_RENDER", `the renderer failed ${TRIES} times: ${reason}`, {
            where: errand.where(),
          }),
        );
      }
    }
    if (!this.#isClosed) this.#next();
  }

  #end(worker: Worker, reason: string): void {
    worker.ended ??= reason;
    worker.child.kill("SIGKILL");
  }
}
