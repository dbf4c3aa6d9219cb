import { hostname } from "node:os";
import type { Job } from "bullmq";
import { namesInTask, prepareWork } from "../../emit/bands/work.js";
import { failureOf } from "../../emit/bands/worker-words.js";
import { BandPool, type MadeBands } from "../../emit/index.js";
import { RepetendError } from "../../errors.js";
import { serveBandsOptions } from "../checks.js";
import { openQueue, type QueueLink } from "./link.js";
import { WorkShelf } from "./parcel.js";
import { within } from "./within.js";
import { type BandAnswer, type BandOrder, machineName, packAnswer, TRIES } from "./words.js";

/** A task that this machine is through with. */
export interface ServedTask {
  /** The print's name. */
  readonly print: string;
  /** Which of the print's tasks. */
  readonly task: number;
  /** Rows of the tile: from the first to behind the last; left out where nothing came of it. */
  readonly rows?: readonly [number, number];
  /** What it took. */
  readonly seconds: number;
  /** What was sent. */
  readonly bytes: number;
  /** Why it was refused. */
  readonly refused?: string;
}

/** How a machine serves. */
export interface ServeBandsOptions {
  /** How many processes draw, 1 or more. Default: as many as there are cores. */
  readonly workers?: number;
  /** For all processes together, in bytes: bounds how many there are. Default: no limit. */
  readonly memory?: number;
  /** A machine that was not heard of for so long loses its tasks to others, in seconds, above 0. Default 10. */
  readonly patience?: number;
  /** Called once this machine serves: where, without a password, and how many tasks it takes at a time. */
  readonly onReady?: (serving: { readonly address: string; readonly places: number }) => void;
  /** Called with each task that this machine is through with. */
  readonly onTask?: (task: ServedTask) => void;
  /** Ends the serving: what is under way goes back to the others. Default: never. */
  readonly signal?: AbortSignal;
}

const PATIENCE = 10;

/** An idle machine asks anew after this, in seconds; as long as that it may stay when its server is gone. */
const ASK_AGAIN = 1;

/** A server that is gone must not hold up the end, in ms. */
const END_WITHIN = 600;

const rowsOf = (made: MadeBands): readonly [number, number] | undefined =>
  made === undefined || made.length === 0
    ? undefined
    : [Math.min(...made.map(({ y }) => y)), Math.max(...made.map(({ y, height }) => y + height))];

/** What serves. */
interface Serving {
  readonly link: QueueLink;
  readonly shelf: WorkShelf;
  readonly pool: BandPool;
  readonly options: ServeBandsOptions;
}

/** Sends an answer to whoever still waits for it; gives its size in bytes. */
async function send(
  { link }: Serving,
  { data, id = "" }: Job<BandOrder>,
  answer: BandAnswer,
): Promise<number> {
  const bytes = packAnswer(answer);
  await link.redis.xadd(data.answers, "NOMKSTREAM", "*", id, bytes);
  return bytes.length;
}

/** Draws the bands of a task; what is no longer there is asked for again. */
async function drawTask(
  serving: Serving,
  job: Job<BandOrder>,
): Promise<Omit<ServedTask, "seconds"> | undefined> {
  const { link, shelf, pool, options } = serving;
  const { work: key, task, answers } = job.data;
  if ((await link.redis.exists(answers)) === 0) return undefined; // nobody waits for it
  const work = await shelf.take(key);
  if (work === undefined) {
    await send(serving, job, { kind: "unknown" });
    return undefined;
  }
  if (job.stalledCounter >= TRIES) {
    throw new RepetendError("E_RENDER", `${TRIES} machines went away while they were at it`, {
      where: namesInTask(prepareWork(work), task),
    });
  }
  const result = await pool.make(work, task, options.signal);
  const rows = rowsOf(result);
  const bytes = await send(serving, job, { kind: "done", result });
  return { print: work.print.name, task, bytes, ...(rows === undefined ? {} : { rows }) };
}

/** Works off a task, and says how it went. */
async function serveTask(serving: Serving, job: Job<BandOrder>, token: string | undefined): Promise<void> {
  const { signal, onTask } = serving.options;
  const start = performance.now();
  let served: Omit<ServedTask, "seconds"> | undefined;
  try {
    served = await drawTask(serving, job);
  } catch (error) {
    if (signal?.aborted === true) {
      await job.moveToWait(token);
      throw new serving.link.bull.WaitingError();
    }
    // What is no refusal may be this machine's own trouble: it is tried once more, perhaps by another.
    if (!(error instanceof RepetendError) && job.attemptsMade + 1 < TRIES) throw error;
    const bytes = await send(serving, job, { kind: "failed", error: failureOf(error) });
    const refused = error instanceof Error ? error.message : String(error);
    served = { print: job.data.print, task: job.data.task, bytes, refused };
  }
  if (served !== undefined) onTask?.({ ...served, seconds: (performance.now() - start) / 1000 });
}

/** Serves until it is told to stop. */
async function serveUntil(serving: Serving, patience: number): Promise<void> {
  const { link, pool, options } = serving;
  const { redis, bull, kind, prefix, address } = link;
  const worker = new bull.Worker<BandOrder>(kind.name, (job, token) => serveTask(serving, job, token), {
    connection: redis,
    prefix,
    name: machineName(pool.atOnce, hostname()),
    concurrency: pool.atOnce,
    lockDuration: patience * 1000,
    stalledInterval: (patience * 1000) / 2,
    maxStalledCount: TRIES,
    drainDelay: ASK_AGAIN,
  });
  worker.on("error", () => {}); // a server that is gone is tried again, a lock that is lost is another machine's
  await new Promise<void>((resolve) => {
    // Closed at once, it takes nothing more, and what is under way goes back; to a server that is gone nothing can.
    const stop = (): void => resolve(within(END_WITHIN, worker.close(redis.status !== "ready")));
    worker.waitUntilReady().then(
      () => options.onReady?.({ address, places: pool.atOnce }),
      () => {},
    );
    options.signal?.addEventListener("abort", stop, { once: true });
    if (options.signal?.aborted === true) stop();
  });
}

/**
 * Serves a queue: takes tasks from {@link BandQueue}s of any machine, draws them in processes of this one, and sends the
 * compressed bands back, until it is stopped. It needs no files. A server that goes away is waited for.
 *
 * @param url where the Redis server is, as for {@link BandQueue}.
 * @throws `RepetendError` E_QUEUE when there is no server, or the packages `bullmq` and `ioredis` are not installed;
 * E_NUMBER for options out of range. The signal's reason when it stops the opening.
 *
 * @example
 * ```ts
 * import { type ServeBandsOptions, serveBands } from "repetend/batch";
 * const options: ServeBandsOptions = { workers: 2, onTask: ({ print, rows }) => console.log(print, rows) };
 * const serve = (stop: AbortSignal) => serveBands("redis://studio:6379", { ...options, signal: stop });
 * typeof serve; // "function"
 * ```
 */
export async function serveBands(url: string, options: ServeBandsOptions = {}): Promise<void> {
  serveBandsOptions(options, "options");
  const { workers, memory, patience = PATIENCE, signal } = options;
  const link = await openQueue(url, signal);
  const shelf = new WorkShelf(link.redis);
  let pool: BandPool | undefined;
  try {
    pool = new BandPool({
      ...(workers === undefined ? {} : { workers }),
      ...(memory === undefined ? {} : { memory }),
    });
    await serveUntil({ link, shelf, pool, options }, patience);
  } finally {
    await pool?.close();
    await shelf.close();
    await link.close();
  }
}
