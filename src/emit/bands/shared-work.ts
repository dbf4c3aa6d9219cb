import { serialize } from "node:v8";
import { type BandWork, drawTask, type PreparedWork, prepareWork } from "./work.js";
import type { WorkerErrand } from "./worker-words.js";

/** Some work as processes are asked for it. */
export interface SharedWork {
  readonly key: number;
  readonly prepared: PreparedWork;
  /** What a process has to know for all tasks of it. */
  readonly bytes: Uint8Array;
}

/** Makes work ready to be asked for. `key` tells it from other work. */
export function shareWork(work: BandWork, key: number): SharedWork {
  const prepared = prepareWork(work);
  return { key, prepared, bytes: serialize(work.way === "direct" ? prepared.rows.work : work) };
}

/**
 * A task as a process is asked for it. Tasks of one colourway are drawn here: text is soon written, and a process then
 * needs neither the print nor the time to read it before it renders.
 */
export function errandOf({ key, prepared }: SharedWork, index: number): WorkerErrand {
  const task = prepared.plan.tasks[index];
  if (task === undefined) throw new RangeError(`there is no task ${index}`);
  return prepared.work.way === "direct"
    ? { kind: "drawn", key, ...drawTask(prepared, task) }
    : { kind: "planes", key, task: index };
}
