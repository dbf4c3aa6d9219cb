import type { ChildProcess } from "node:child_process";
import { RepetendError } from "../../errors.js";
import type { PixelImage } from "../../image/index.js";
import type { Engine } from "../../raster/index.js";
import { bandPoolOptions } from "../checks.js";
import { forkWorker } from "../fork-worker.js";
import { type BandBudget, bandsTogether, checkRoom, readBudget } from "./budget.js";
import type { BandMaker } from "./maker.js";
import { errandOf, type SharedWork, shareWork } from "./shared-work.js";
import { type BandWork, type MadeBands, namesInTask } from "./work.js";
import { EXIT_MEMORY, errorOf, type WorkerAnswer, type WorkerErrand } from "./worker-words.js";

/** How a pool of processes works. */
export interface BandPoolOptions {
  /** How many processes at most, 1 or more; each draws one band and packs another. Default: as many as there are cores. */
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

/** A process that has grown to this share of its limit is replaced by a new one. */
const REPLACE_AT = 0.99;

/**
 * Two bands keep a process's two threads busy, and a further process takes some tenths of a second until it
 * is warm. So it is started when there has been work for as long as a few of them would take, in ms.
 */
const FURTHER_AFTER = 2500;

const TIME_LIMIT = 120;

/** One task, waiting or under way. */
interface Errand {
  readonly id: number;
  readonly work: BandWork | undefined;
  /** What a process is asked, made when it is given to one: drawings that wait would fill the memory. */
  readonly ask: () => WorkerErrand;
  /** What is being drawn, for a person. */
  readonly where: () => string;
  readonly resolve: (result: unknown) => void;
  readonly reject: (reason: unknown) => void;
  /** How many processes ended that were at it. */
  tries: number;
}

/** A process, and what it is at. */
interface Worker {
  readonly child: ChildProcess;
  /** The work it was sent last. */
  key: number | undefined;
  /** By their ids, each with the clock that runs for it. */
  readonly errands: Map<number, { readonly errand: Errand; readonly timer: NodeJS.Timeout }>;
  /** It has grown too large, and takes nothing more. */
  isGrown: boolean;
  /** Why it was ended by the pool. */
  ended: string | undefined;
}

const wasClosed = (): RepetendError =>
  new RepetendError("E_USAGE", "the pool was closed", {
    accepted: "a pool that is open until its work is done",
  });

/** A process was ended for a task that is not wanted any more. */
const STOPPED = "it was stopped";

/** Tasks are tried so often: what fails twice fails always. */
const TRIES = 2;

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
  /** How many bands are made at a time. */
  readonly atOnce: number;
  readonly #budget: BandBudget;
  readonly #options: BandPoolOptions;
  readonly #workers = new Set<Worker>();
  readonly #waiting: Errand[] = [];
  readonly #known = new WeakMap<BandWork, SharedWork>();
  #keys = 0;
  #ids = 0;
  #isClosed = false;
  /** There has been work for {@link FURTHER_AFTER}; until then, the clock that tells. */
  #isLong = false;
  #clock: NodeJS.Timeout | undefined;
  /** The turn in which the next task is given. */
  #turn: NodeJS.Immediate | undefined;

  /** @throws `RepetendError` E_NUMBER for options out of range, E_ARGUMENT for options of the wrong kind. */
  constructor(options: BandPoolOptions = {}) {
    bandPoolOptions(options, "options");
    this.#budget = readBudget(options);
    this.atOnce = this.#budget.bands;
    this.#options = options;
    this.#start(); // it gets ready while its first task is prepared
  }

  /** @throws `RepetendError` E_TOO_LARGE for bands that do not fit into a process. */
  check(work: BandWork): void {
    checkRoom(this.#budget, work);
  }

  async make(work: BandWork, task: number, signal?: AbortSignal): Promise<MadeBands> {
    this.check(work);
    const shared = this.#share(work);
    const where = () => namesInTask(shared.prepared, task);
    return this.#ask(work, () => errandOf(shared, task), where, signal) as Promise<MadeBands>;
  }

  /** Renders a drawing of this package's own making in a process; see `renderNative`. */
  readonly render: Engine = async (svg, size) => {
    const where = () => `a drawing of ${size.width} x ${size.height} px`;
    return (await this.#ask(undefined, () => ({ kind: "render", svg, size }), where)) as PixelImage;
  };

  /** Ends all processes; what is under way, and what is asked for from now on, is refused with E_USAGE. */
  async close(): Promise<void> {
    this.#isClosed = true;
    clearTimeout(this.#clock);
    const reason = wasClosed();
    for (const errand of this.#waiting.splice(0)) errand.reject(reason);
    const ends = [...this.#workers].map(
      (worker) =>
        new Promise<void>((resolve) => {
          for (const errand of this.#takeBack(worker)) errand.reject(reason);
          worker.child.ref(); // an idle process does not keep this one alive, but its end is awaited
          worker.child.once("exit", () => resolve());
          this.#end(worker, "closed");
        }),
    );
    await Promise.all(ends);
  }

  #share(work: BandWork): SharedWork {
    const known = this.#known.get(work);
    if (known !== undefined) return known;
    const made = shareWork(work, ++this.#keys);
    this.#known.set(work, made);
    return made;
  }

  #ask(
    work: BandWork | undefined,
    ask: () => WorkerErrand,
    where: () => string,
    signal?: AbortSignal,
  ): Promise<unknown> {
    return new Promise((resolve, reject) => {
      if (this.#isClosed) throw wasClosed();
      signal?.throwIfAborted();
      const stop = (): void => {
        reject(signal?.reason);
        const at = this.#waiting.indexOf(errand);
        if (at >= 0) this.#waiting.splice(at, 1);
        for (const worker of this.#workers) {
          if (!worker.errands.has(errand.id)) continue;
          clearTimeout(worker.errands.get(errand.id)?.timer);
          worker.errands.delete(errand.id);
          this.#end(worker, STOPPED);
        }
      };
      const settle =
        <T>(then: (value: T) => void) =>
        (value: T): void => {
          signal?.removeEventListener("abort", stop);
          then(value);
        };
      const errand: Errand = {
        id: ++this.#ids,
        work,
        ask,
        where,
        resolve: settle(resolve),
        reject: settle(reject),
        tries: 0,
      };
      signal?.addEventListener("abort", stop, { once: true });
      this.#waiting.push(errand);
      this.#clock ??= setTimeout(() => {
        this.#isLong = true;
        this.#next();
      }, FURTHER_AFTER).unref();
      this.#next();
    });
  }

  /**
   * Gives waiting tasks to processes that have room, and starts processes where there are too few: one task a turn, since
   * to draw it may take long, and signals, clocks and what is sent have their turns meanwhile.
   */
  #next(): void {
    this.#turn ??= setImmediate(() => {
      this.#turn = undefined;
      const [errand] = this.#waiting;
      const worker = errand === undefined ? undefined : this.#roomFor(errand);
      if (errand === undefined || worker === undefined) return;
      this.#waiting.shift();
      this.#give(worker, errand);
      this.#next();
    });
  }

  /** The process that has the least to do, or a new one; a task whose process ended gets one for itself alone. */
  #roomFor(errand: Errand): Worker | undefined {
    const { tries, work } = errand;
    const most = tries === 0 && work !== undefined ? bandsTogether(this.#budget, work) : 1;
    const open = [...this.#workers].filter(
      ({ errands, ended, isGrown }) =>
        ended === undefined &&
        !isGrown &&
        errands.size < most &&
        [...errands.values()].every((one) => one.errand.tries === 0),
    );
    const [first] = open.sort((one, other) => one.errands.size - other.errands.size);
    if (first !== undefined || this.#workers.size >= this.#budget.processes) return first;
    return most > 1 && this.#workers.size > 0 && !this.#isLong ? undefined : this.#start();
  }

  #give(worker: Worker, errand: Errand): void {
    const asked = this.#askedOf(errand);
    if (asked === undefined) return;
    const seconds = this.#options.timeLimit ?? TIME_LIMIT;
    const timer = setTimeout(() => this.#end(worker, `it took more than ${seconds} s`), seconds * 1000);
    worker.errands.set(errand.id, { errand, timer });
    worker.child.ref();
    worker.child.channel?.ref();
    const { id, work } = errand;
    const isNew = asked.kind !== "render" && worker.key !== asked.key;
    if (isNew && work !== undefined) {
      worker.key = asked.key;
      worker.child.send({ ...asked, id, shared: this.#share(work).bytes });
    } else {
      worker.child.send({ ...asked, id });
    }
  }

  /** Nothing where it cannot be drawn, which is its answer. */
  #askedOf({ ask, reject }: Errand): WorkerErrand | undefined {
    try {
      return ask();
    } catch (error) {
      reject(error);
      return undefined;
    }
  }

  #start(): Worker {
    const { engine = "native", program } = this.#options;
    const child = forkWorker(engine, this.#budget.limit, program);
    const worker: Worker = { child, key: undefined, errands: new Map(), isGrown: false, ended: undefined };
    child.on("message", (answer: WorkerAnswer) => this.#take(worker, answer));
    child.on("error", (error) => {
      worker.ended ??= error.message;
    });
    child.on("exit", (code, signal) => this.#lose(worker, code, signal));
    this.#rest(worker);
    this.#workers.add(worker);
    return worker;
  }

  #take(worker: Worker, answer: WorkerAnswer): void {
    const { errand, timer } = worker.errands.get(answer.id) ?? {};
    clearTimeout(timer);
    worker.errands.delete(answer.id);
    if (answer.kind === "done") errand?.resolve(answer.result);
    else errand?.reject(errorOf(answer.error));
    worker.isGrown ||= answer.kind === "done" && answer.resident > REPLACE_AT * this.#budget.limit;
    if (worker.isGrown && worker.errands.size === 0) this.#end(worker, "grown");
    this.#next();
    // One that was ended makes room when it is gone, and that is waited for.
    if (worker.errands.size === 0 && worker.ended === undefined) this.#rest(worker);
  }

  /** Lets this process end though that one waits for more. */
  #rest({ child }: Worker): void {
    child.unref();
    child.channel?.unref();
  }

  /** All that a process is at. */
  #takeBack(worker: Worker): readonly Errand[] {
    const taken = [...worker.errands.values()];
    for (const { timer } of taken) clearTimeout(timer);
    worker.errands.clear();
    return taken.map(({ errand }) => errand);
  }

  /** A process is gone: what it was at is tried once more, and then refused. */
  #lose(worker: Worker, code: number | null, signal: NodeJS.Signals | null): void {
    this.#workers.delete(worker);
    const megabytes = Math.floor(this.#budget.limit / 1e6);
    const reason =
      worker.ended ??
      (code === EXIT_MEMORY
        ? `it took more than ${megabytes} MB`
        : `it ended with ${signal ?? `code ${code}`}`);
    for (const errand of this.#takeBack(worker)) {
      if (reason !== STOPPED) errand.tries++;
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
