import { aFunction, maybe } from "../../checks.js";
import type { Engine } from "../../raster/index.js";
import { type BandWork, type MadeBands, makeBands, type PreparedWork, prepareWork } from "./work.js";

/** Works off tasks, in this process or in others. */
export interface BandMaker {
  /** How many tasks it takes at a time. */
  readonly atOnce: number;
  /**
   * Refuses work that it could not do, before any of it is done. Default: it takes all work.
   *
   * @throws `RepetendError` E_TOO_LARGE.
   */
  readonly check?: (work: BandWork) => void;
  /**
   * Makes the bands of a task of some work.
   *
   * @throws `RepetendError` E_RENDER when the renderer fails. The signal's reason when it stops the work.
   */
  readonly make: (work: BandWork, task: number, signal?: AbortSignal) => Promise<MadeBands>;
}

/** Two renderings at a time keep two threads busy; more would fill the memory sooner than the cores. */
const AT_ONCE = 2;

/** Makes bands in this process. */
export function localMaker(engine?: Engine): BandMaker {
  maybe(aFunction)(engine, "engine");
  const prepared: PreparedWork[] = [];
  const prepare = (work: BandWork): PreparedWork => {
    const known = prepared.find((one) => one.work === work) ?? prepareWork(work);
    prepared.splice(0, prepared.length, known);
    return known;
  };
  return {
    atOnce: AT_ONCE,
    make: (work, task, signal) =>
      makeBands(prepare(work), task, {
        ...(engine === undefined ? {} : { engine }),
        ...(signal === undefined ? {} : { signal }),
      }),
  };
}

/**
 * Works off all tasks, `maker.atOnce` at a time; yields them as they are done.
 *
 * @throws what a task throws first; the others are awaited before that.
 */
export async function* makeAllBands(
  work: BandWork,
  tasks: number,
  maker: BandMaker,
  signal?: AbortSignal,
): AsyncGenerator<MadeBands, void, undefined> {
  const under = new Map<number, Promise<{ readonly task: number; readonly made: MadeBands }>>();
  let next = 0;
  try {
    while (next < tasks || under.size > 0) {
      for (; next < tasks && under.size < maker.atOnce; next++) {
        const task = next;
        const promise = maker.make(work, task, signal).then((made) => ({ task, made }));
        promise.catch(() => {}); // awaited below; a failure must not surface before that
        under.set(task, promise);
      }
      const { task, made } = await Promise.race(under.values());
      under.delete(task);
      yield made;
    }
  } finally {
    await Promise.allSettled(under.values());
  }
}
