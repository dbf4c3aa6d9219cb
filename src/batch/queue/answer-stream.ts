import { setTimeout as wait } from "node:timers/promises";
import type { Redis } from "ioredis";
import { within } from "./within.js";
import { answersKey, type BandAnswer, KEPT_FOR, readAnswer } from "./words.js";

/** Answers are fetched so many at a time, and waited for so long, in ms. */
const FETCH = { many: 4, wait: 2000 };

/** After a fault the stream is read again, in ms. */
const AGAIN_AFTER = 1000;

/** The entries of one stream that was read: the name of each, and its fields. */
function entriesOf(read: unknown): readonly (readonly [string, readonly Buffer[]])[] {
  const [, entries = []] = (read as [[Buffer, [Buffer, Buffer[]][]]] | null)?.[0] ?? [];
  return entries.map(([name, fields]) => [String(name), fields]);
}

/** What waits for a server that is gone is never told of its end, in ms. */
const END_WITHIN = 200;

/**
 * The stream that machines send their answers to. It is there as long as somebody waits for them: machines send to no
 * other, and where whoever waited has died, it goes by itself.
 */
export class AnswerStream {
  readonly key: string;
  readonly #redis: Redis;
  readonly #reader: Redis;
  readonly #reading: Promise<void>;
  readonly #take: (id: string, answer: BandAnswer) => void;
  #isClosed = false;

  /** @param take is given each answer once, with the id that it answers. */
  constructor(redis: Redis, name: string, take: (id: string, answer: BandAnswer) => void) {
    this.key = answersKey(name);
    this.#redis = redis;
    this.#take = take;
    this.#reader = redis.duplicate({ lazyConnect: false }); // it waits, and holds up what else it is asked
    this.#reader.on("error", () => {}); // it connects anew
    this.#reading = this.#read();
  }

  /** Opens the stream, and again where it has gone: this machine may have slept, or the server have been started anew. */
  async renew(): Promise<void> {
    if ((await this.#redis.expire(this.key, KEPT_FOR)) > 0) return;
    await this.#redis.xadd(this.key, "*", "opened", "");
    await this.#redis.expire(this.key, KEPT_FOR);
  }

  /** Reads no more. */
  async close(): Promise<void> {
    this.#isClosed = true;
    this.#reader.disconnect();
    await within(END_WITHIN, this.#reading);
  }

  /** What is taken is deleted, so that what is there is always new. */
  async #read(): Promise<void> {
    const { many, wait: most } = FETCH;
    while (!this.#isClosed) {
      try {
        const read = await this.#reader.xreadBuffer("COUNT", many, "BLOCK", most, "STREAMS", this.key, "0");
        for (const [entry, [id, bytes]] of entriesOf(read)) {
          await this.#redis.xdel(this.key, entry);
          if (bytes !== undefined && bytes.length > 0) this.#take(String(id), readAnswer(bytes));
        }
      } catch {
        if (!this.#isClosed) await wait(AGAIN_AFTER);
      }
    }
  }
}
