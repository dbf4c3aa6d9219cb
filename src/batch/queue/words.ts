import { deserialize, serialize } from "node:v8";
import type { WorkerFailure } from "../../emit/bands/worker-words.js";
import type { MadeBands } from "../../emit/index.js";

/** What a machine is asked for. */
export interface BandOrder {
  /** The print's name, for a person. */
  readonly print: string;
  /** The key of the work. */
  readonly work: string;
  readonly task: number;
  /** The stream that the answer goes to; where it is gone, nobody waits. */
  readonly answers: string;
}

/** What a machine answers. */
export type BandAnswer =
  | { readonly kind: "done"; readonly result: MadeBands }
  | { readonly kind: "failed"; readonly error: WorkerFailure }
  /** The work is no longer under its key. */
  | { readonly kind: "unknown" };

/** A task is given to so many machines: what ends two of them ends all. */
export const TRIES = 2;

/** Whoever waits renews its keys; without that they go after this, in seconds. */
export const KEPT_FOR = 120;

export const workKey = (hash: string): string => `repetend:work:${hash}`;
export const answersKey = (name: string): string => `repetend:answers:${name}`;

export const packAnswer = (answer: BandAnswer): Buffer => serialize(answer);
export const readAnswer = (bytes: Uint8Array): BandAnswer => deserialize(bytes) as BandAnswer;

/** A machine's name among the queue's: how many tasks it takes at a time, and what it is called. */
export const machineName = (places: number, host: string): string =>
  `${places}@${host.replace(/[^\w.-]/g, "-")}`;

/** How many tasks the machines of these names take at a time, all together. */
export const countPlaces = (names: readonly string[]): number =>
  names.reduce((sum, name) => sum + Number(/:w:(\d+)@/.exec(name)?.[1] ?? 0), 0);
