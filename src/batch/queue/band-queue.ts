import { randomUUID } from "node:crypto";
import { errorOf } from "../../emit/bands/worker-words.js";
import type { BandMaker, BandWork, MadeBands } from "../../emit/index.js";
import { RepetendError } from "../../errors.js";
import { bandQueueOptions } from "../checks.js";
import { AnswerStream } from "./answer-stream.js";
import { openQueue, type QueueLink } from "./link.js";
import { WorkPost } from "./parcel.js";
import { within } from "./within.js";
import { type BandAnswer, type BandOrder, countPlaces, TRIES } from "./words.js";

/** How a queue of machines is used. */
export interface BandQueueOptions {
  /** So long no machine may serve until the work is given up, in seconds, above 0. Default 30. */
  readonly patience?: number;
  /** Stops the opening; its reason is thrown. */
  readonly signal?: AbortSignal;
}

/** A task that was asked for. */
interface Asked {
  readonly work: BandWork;
  readonly task: number;
  readonly resolve: (made: MadeBands) => void;
  readonly reject: (reason: unknown) => void;
  /** How often it was asked for. */
  times: number;
  /** The key of its work, as soon as the queue has the task. */
  key: string | undefined;
  /** The queue did not know it when it was looked at last. */
  isMissing: boolean;
}

const PATIENCE = 30;

/** The machines are counted, keys renewed and lost tasks found so often, in ms. */
const LOOK = 1000;

/** For each task that a machine is at another one waits, so that none is ever idle. */
const AHEAD = 2;

/** A task that the queue loses so often is given up: by then its server has been emptied again and again. */
const ASKED_MOST = 5;

/** A server that is gone must not hold up the end, in ms. */
const END_WITHIN = 700;

const wasClosed = (): RepetendError =>
  new RepetendError("E_USAGE", "the queue was closed", {
    accepted: "a queue that is open until its work is done",
  });

const nobodyServes = ({ address, kind }: QueueLink, problem: string): RepetendError =>
  new RepetendError("E_QUEUE", problem, {
    input: address,
    accepted: `repetend serve ${address} on a machine of the same kind: ${kind.words}`,
  });

/** What the server itself refuses: a password that has changed, memory that is full. */
const refusalOf = ({ address }: QueueLink, error: unknown): unknown =>
  error instanceof Error && error.name === "ReplyError"
    ? new RepetendError("E_QUEUE", `the queue's server refuses: ${error.message}`, { input: address })
    : error;

/** How many tasks the machines that serve take at a time. */
const placesOf = async ({ queue }: QueueLink): Promise<number> =>
  countPlaces((await queue.getWorkers()).map(({ rawname = "" }) => rawname));

/**
 * Bands made by other machines: each task goes through a queue on a Redis server to a machine that serves it (see
 * {@link serveBands}), and its compressed bands come back. The bytes are those of this machine, since only machines of
 * one kind share a queue. A machine that dies in the middle loses its task to another one. Close it when done.
 *
 * @example
 * ```ts
 * import type { Print } from "repetend";
 * import { BandQueue } from "repetend/batch";
 * import { type EmittedTile, emitTile } from "repetend/emit";
 * async function makeTogether(print: Print, dir: string): Promise<EmittedTile> {
 *   const queue = await BandQueue.open("redis://studio:6379");
 *   try {
 *     return await emitTile(print, { dpi: 300, dir, maker: queue });
 *   } finally {
 *     await queue.close();
 *   }
 * }
 * typeof makeTogether; // "function"
 * ```
 */
export class BandQueue implements BandMaker {
  readonly #link: QueueLink;
  /** In ms. */
  readonly #patience: number;
  readonly #name: string = randomUUID();
  /** By the ids under which the queue knows them. */
  readonly #asked = new Map<string, Asked>();
  readonly #post: WorkPost;
  /** What goes on aside, and is awaited before the end. */
  readonly #aside = new Set<Promise<void>>();
  readonly #answers: AnswerStream;
  readonly #clock: NodeJS.Timeout;
  #isLooking = false;
  #places: number;
  /** Since a machine was seen that serves, in ms. Counted by looks: a machine that slept has not waited. */
  #silence = 0;
  #count = 0;
  #isClosed = false;

  private constructor(link: QueueLink, places: number, patience: number) {
    this.#link = link;
    this.#places = places;
    this.#patience = patience * 1000;
    this.#post = new WorkPost(link.redis);
    this.#answers = new AnswerStream(link.redis, this.#name, (id, answer) => this.#take(id, answer));
    this.#clock = setInterval(() => this.#tick(), LOOK);
  }

  /**
   * Opens the queue of this kind of machine.
   *
   * @param url where the Redis server is: `redis://host:6379`, `redis://:password@host`, or `rediss://` encrypted.
   * @throws `RepetendError` E_QUEUE when there is no server, no machine serves, or the packages `bullmq` and `ioredis`
   * are not installed; E_NUMBER for a patience out of range. The signal's reason when it stops the opening.
   */
  static async open(url: string, options: BandQueueOptions = {}): Promise<BandQueue> {
    bandQueueOptions(options, "options");
    const { patience = PATIENCE, signal } = options;
    const link = await openQueue(url, signal);
    try {
      const places = await placesOf(link);
      if (places === 0) throw nobodyServes(link, "no machine serves this queue");
      const queue = new BandQueue(link, places, patience);
      await queue.#answers.renew();
      return queue;
    } catch (error) {
      await link.close();
      throw error;
    }
  }

  /** How many tasks keep all serving machines busy; it changes as they come and go. */
  get atOnce(): number {
    return Math.max(1, AHEAD * this.#places);
  }

  /**
   * Has the bands of a task made.
   *
   * @throws what the machine's renderer refuses, as the same `RepetendError`; E_QUEUE when nobody serves for as long as
   * `patience` says; E_USAGE when the queue is closed. The signal's reason when it stops the work: what waits is taken back.
   */
  async make(work: BandWork, task: number, signal?: AbortSignal): Promise<MadeBands> {
    signal?.throwIfAborted();
    if (this.#isClosed) throw wasClosed();
    return new Promise((resolve, reject) => {
      const stop = (): void => {
        asked.reject(signal?.reason);
        for (const [id, one] of this.#asked) if (one === asked) this.#beside(this.#takeBack(id));
      };
      const settle =
        <T>(then: (value: T) => void) =>
        (value: T): void => {
          signal?.removeEventListener("abort", stop);
          then(value);
        };
      const asked: Asked = {
        work,
        task,
        resolve: settle(resolve),
        reject: settle(reject),
        times: 0,
        key: undefined,
        isMissing: false,
      };
      signal?.addEventListener("abort", stop, { once: true });
      this.#beside(this.#ask(asked));
    });
  }

  /**
   * Takes back all that waits, leaves nothing of its own on the server, and ends the connections. A clock of the queue's
   * client may keep the process itself for some seconds more, to give memory back: one that has nothing left to do may exit.
   */
  async close(): Promise<void> {
    if (this.#isClosed) return;
    this.#isClosed = true;
    clearInterval(this.#clock);
    const reason = wasClosed();
    for (const asked of this.#asked.values()) asked.reject(reason);
    const clean = async (): Promise<void> => {
      await Promise.all([...this.#asked.keys()].map((id) => this.#takeBack(id)));
      await Promise.allSettled(this.#aside);
      await this.#link.redis.unlink(this.#answers.key, ...this.#post.keys());
    };
    await within(
      END_WITHIN,
      clean().catch(() => {}),
    );
    await this.#answers.close();
    await this.#link.close();
  }

  /** What fails aside is tried again by {@link BandQueue.#look}, or given up for want of patience. */
  #beside(work: Promise<void>): void {
    const quiet = work
      .catch(() => {})
      .finally(() => {
        this.#aside.delete(quiet);
      });
    this.#aside.add(quiet);
  }

  /** Puts a task into the queue, under a new id. */
  async #ask(asked: Asked): Promise<void> {
    const { queue } = this.#link;
    const id = `${this.#name}-${++this.#count}`;
    this.#asked.set(id, asked);
    asked.key = undefined;
    asked.isMissing = false;
    try {
      if (++asked.times > ASKED_MOST) {
        throw new RepetendError("E_QUEUE", `the queue lost a task ${ASKED_MOST} times`, {
          input: this.#link.address,
          accepted: "a server that keeps what it is given: one with memory enough",
        });
      }
      const key = await this.#post.put(asked.work);
      const order: BandOrder = {
        print: asked.work.print.name,
        work: key,
        task: asked.task,
        answers: this.#answers.key,
      };
      if (!this.#asked.has(id)) return;
      await queue.add("bands", order, {
        jobId: id,
        attempts: TRIES,
        removeOnComplete: true,
        removeOnFail: true,
      });
      asked.key = key;
      if (!this.#asked.has(id)) await queue.remove(id); // it was stopped meanwhile
    } catch (error) {
      this.#asked.delete(id);
      asked.reject(refusalOf(this.#link, error));
    }
  }

  async #takeBack(id: string): Promise<void> {
    this.#asked.delete(id);
    await this.#link.queue.remove(id); // one that a machine is at stays: its answer goes to nobody
  }

  #take(id: string, answer: BandAnswer): void {
    const asked = this.#asked.get(id);
    if (asked === undefined) return;
    this.#asked.delete(id);
    if (answer.kind === "done") asked.resolve(answer.result);
    else if (answer.kind === "failed") asked.reject(errorOf(answer.error));
    else {
      this.#post.forget(asked.work);
      this.#beside(this.#ask(asked));
    }
  }

  #tick(): void {
    this.#silence += LOOK;
    if (this.#silence > this.#patience) {
      const reason =
        this.#link.redis.status === "ready"
          ? nobodyServes(this.#link, "no machine serves this queue any more")
          : new RepetendError("E_QUEUE", "the queue's server is gone", {
              input: this.#link.address,
              accepted: "the server running again: files that are whole are kept, and the next run goes on",
            });
      for (const [id, asked] of this.#asked) {
        asked.reject(reason);
        this.#beside(this.#takeBack(id));
      }
    }
    if (this.#isLooking) return; // the server is slow, or gone
    this.#isLooking = true;
    const done = (): void => {
      this.#isLooking = false;
    };
    this.#look().then(done, done);
  }

  /** Counts the machines, renews what is kept for them, and asks again for what the queue lost. */
  async #look(): Promise<void> {
    const { redis, queue } = this.#link;
    const places = await placesOf(this.#link);
    if (places > 0) {
      this.#places = places;
      this.#silence = 0;
    }
    await this.#post.renew([...this.#asked.values()].flatMap(({ key }) => key ?? []));
    await this.#answers.renew();
    for (const [id, asked] of [...this.#asked]) {
      if (asked.key === undefined || (await redis.exists(queue.toKey(id))) > 0) continue;
      // The answer to a task that is done may still be under way.
      if (!asked.isMissing) asked.isMissing = true;
      else if (this.#asked.delete(id)) this.#beside(this.#ask(asked));
    }
  }
}
