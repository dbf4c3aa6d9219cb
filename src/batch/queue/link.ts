import type { Queue } from "bullmq";
import type { Redis } from "ioredis";
import { aText } from "../../checks.js";
import { RepetendError } from "../../errors.js";
import { type QueueKind, readQueueKind } from "./kind.js";
import { within } from "./within.js";

/** Both packages are installed only where somebody shares a queue. */
const PACKAGES = "bullmq ioredis";

/** Ahead of all keys. */
const PREFIX = "repetend";

/** A server that does not answer within this is not there, in ms. */
const ANSWERS_WITHIN = 5000;

/** A lost server is tried again after this, in ms. */
const AGAIN_AFTER = 500;

/** A connection that was ended is cut after this, in ms: the server may be slow to say goodbye. */
const CUT_AFTER = 100;

/** A server that is gone must not hold up the end, in ms. */
const END_WITHIN = 300;

/** What a queue keeps about itself, some kilobytes, goes when nobody has come or gone for so long, in seconds. */
const LEFT_FOR = 3600;
const BOOKS = ["meta", "id", "events", "marker"]; // the mark of the last look for stalled tasks goes by itself

/** The queue remembers so many events for those who look at it from outside. */
const EVENTS = 100;

/** A queue that was opened. */
export interface QueueLink {
  readonly kind: QueueKind;
  /** The server's address without a password, for a person. */
  readonly address: string;
  readonly redis: Redis;
  readonly queue: Queue;
  readonly bull: typeof import("bullmq");
  readonly prefix: string;
  /** Ends all connections. */
  readonly close: () => Promise<void>;
}

/** The two packages, where they are installed. */
async function loadPackages() {
  try {
    const [bull, { Redis }] = await Promise.all([import("bullmq"), import("ioredis")]);
    return { bull, Redis };
  } catch (error) {
    throw new RepetendError("E_QUEUE", "the packages that share a queue are not installed", {
      accepted: `npm install ${PACKAGES}`,
      cause: error,
    });
  }
}

/** An address without user and password. */
function readAddress(url: string): string {
  aText(url, "url");
  const read = URL.canParse(url) ? new URL(url) : undefined;
  if (read === undefined || !/^rediss?:$/.test(read.protocol) || read.hostname === "") {
    throw new RepetendError("E_QUEUE", "not the address of a queue", {
      value: url.replace(/\/\/.*@/, "//"),
      accepted: "redis://host:6379, or rediss:// for an encrypted connection",
    });
  }
  return `${read.protocol}//${read.host}${read.pathname}`;
}

const describe = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/**
 * Opens the queue of this kind of machine.
 *
 * @throws `RepetendError` E_QUEUE for an address that is none, a server that does not answer, and packages that are missing.
 */
export async function openQueue(url: string, signal?: AbortSignal): Promise<QueueLink> {
  const address = readAddress(url);
  const { bull, Redis } = await loadPackages();
  const kind = await readQueueKind();
  let isOpen = false;
  const redis = new Redis(url, {
    lazyConnect: true,
    connectTimeout: ANSWERS_WITHIN,
    disconnectTimeout: CUT_AFTER,
    maxRetriesPerRequest: null,
    retryStrategy: () => (isOpen ? AGAIN_AFTER : null),
  });
  let reason: unknown;
  redis.on("error", (error) => {
    reason = error;
  });
  const stop = (): void => redis.disconnect();
  signal?.addEventListener("abort", stop, { once: true });
  try {
    signal?.throwIfAborted();
    await redis.connect();
    await redis.ping();
  } catch (error) {
    redis.disconnect();
    signal?.throwIfAborted();
    throw new RepetendError("E_QUEUE", `the queue's server does not answer: ${describe(reason ?? error)}`, {
      input: address,
      accepted: "the address of a Redis server that is running, with its password where it has one",
      cause: error,
    });
  } finally {
    signal?.removeEventListener("abort", stop);
  }
  isOpen = true;
  const queue = new bull.Queue(kind.name, {
    connection: redis,
    prefix: PREFIX,
    streams: { events: { maxLen: EVENTS } },
  });
  queue.on("error", () => {}); // what fails is told where it was asked for
  const close = async (): Promise<void> => {
    isOpen = false;
    const leave = async (): Promise<void> => {
      for (const name of BOOKS) await redis.expire(queue.toKey(name), LEFT_FOR);
      await queue.close();
    };
    await within(
      END_WITHIN,
      leave().catch(() => {}),
    );
    redis.disconnect();
  };
  return { kind, address, redis, queue, bull, prefix: PREFIX, close };
}
