import { createHash } from "node:crypto";
import { deserialize, serialize } from "node:v8";
import type { Redis } from "ioredis";
import { type BandWork, CmykConverter, type Encoding } from "../../emit/index.js";
import { readWithin } from "../../raster/read-within.js";
import { KEPT_FOR, workKey } from "./words.js";

/** What is in a parcel: in place of the paths of profiles, which only one machine knows, stand their checksums. */
interface Packed {
  readonly work: BandWork;
  readonly profiles: ReadonlyMap<string, Uint8Array>;
}

/** So much that a profile may have in bytes; see `CmykConverter`. */
const PROFILE_LIMIT = 64 * 2 ** 20;

/** A machine that serves keeps so much work at hand. */
const AT_HAND = 8;

const hash = (bytes: Uint8Array): string => createHash("sha256").update(bytes).digest("hex");

/** The profiles by which some of the work is converted. */
const profilesOf = ({ encodings }: BandWork): readonly string[] =>
  encodings.flatMap((encoding) => (encoding.format === "tiff" ? (encoding.profile ?? []) : []));

/** The same work with other names for its profiles. */
function renameProfiles(work: BandWork, rename: (profile: string) => string): BandWork {
  const encodings = work.encodings.map(
    (encoding): Encoding =>
      encoding.format === "tiff" && encoding.profile !== undefined
        ? { ...encoding, profile: rename(encoding.profile) }
        : encoding,
  );
  return { ...work, encodings };
}

/** Packs work with all that is needed for it, so that machines need no files. */
async function packWork(work: BandWork): Promise<Buffer> {
  const profiles = new Map<string, Uint8Array>();
  const names = new Map<string, string>();
  for (const path of new Set(profilesOf(work))) {
    const icc = await readWithin(path, PROFILE_LIMIT);
    names.set(path, hash(icc));
    profiles.set(hash(icc), icc);
  }
  const packed: Packed = { work: renameProfiles(work, (path) => names.get(path) ?? path), profiles };
  return serialize(packed);
}

/** Puts work onto the server, under keys that are made of it. */
export class WorkPost {
  readonly #redis: Redis;
  readonly #keys = new WeakMap<BandWork, Promise<string>>();
  readonly #put = new Set<string>();

  constructor(redis: Redis) {
    this.#redis = redis;
  }

  /** Puts work there, once, and gives its key. */
  put(work: BandWork): Promise<string> {
    const known = this.#keys.get(work) ?? this.#send(work);
    this.#keys.set(work, known);
    return known;
  }

  async #send(work: BandWork): Promise<string> {
    const bytes = await packWork(work);
    const key = workKey(hash(bytes));
    await this.#redis.set(key, bytes, "EX", KEPT_FOR);
    this.#put.add(key);
    return key;
  }

  /** Work is not there any more: the next who needs it puts it there again. */
  forget(work: BandWork): void {
    this.#keys.delete(work);
  }

  /** Work that is waited for stays. */
  async renew(keys: readonly string[]): Promise<void> {
    for (const key of new Set(keys)) await this.#redis.expire(key, KEPT_FOR);
  }

  /** Of all that was put there. */
  keys(): readonly string[] {
    return [...this.#put];
  }
}

/** Fetches and unpacks work. Close it when done. */
export class WorkShelf {
  readonly #redis: Redis;
  readonly #works = new Map<string, Promise<BandWork | undefined>>();
  readonly #profiles = new Map<string, Promise<CmykConverter>>();

  constructor(redis: Redis) {
    this.#redis = redis;
  }

  /** The work under a key; `undefined` where it is no longer there. */
  async take(key: string): Promise<BandWork | undefined> {
    const known = this.#works.get(key) ?? this.#fetch(key);
    this.#works.delete(key); // what was taken last goes last
    this.#works.set(key, known);
    const [oldest] = this.#works.keys();
    if (this.#works.size > AT_HAND && oldest !== undefined) this.#works.delete(oldest);
    try {
      const work = await known;
      if (work === undefined) this.#works.delete(key);
      return work;
    } catch (error) {
      this.#works.delete(key);
      throw error;
    }
  }

  async #fetch(key: string): Promise<BandWork | undefined> {
    const bytes = await this.#redis.getBuffer(key);
    if (bytes === null) return undefined;
    const { work, profiles } = deserialize(bytes) as Packed;
    const paths = new Map<string, string>();
    for (const [name, icc] of profiles) {
      const profile = this.#profiles.get(name) ?? CmykConverter.open(icc);
      this.#profiles.set(name, profile);
      paths.set(name, (await profile).path);
    }
    return renameProfiles(work, (name) => paths.get(name) ?? ""); // never a path that was sent
  }

  /** Removes the files of profiles. */
  async close(): Promise<void> {
    await Promise.allSettled([...this.#profiles.values()].map(async (profile) => (await profile).close()));
  }
}
