import { readFileSync } from "node:fs";
import { setTimeout as wait } from "node:timers/promises";
import { expect } from "vitest";

/** Whether a process still works: one that has ended may wait long for its parent to take note of it (state Z). */
const isAlive = (pid: number): boolean => {
  try {
    const state = /\) (\w)/.exec(readFileSync(`/proc/${pid}/stat`, "utf8"))?.[1];
    return state !== "Z" && state !== "X";
  } catch {
    return false;
  }
};

/** A worker ends as soon as it is through with the piece in hand; on a busy machine that takes its time. */
const SOON_MS = 20_000;

/** Holds that processes end soon. */
export async function expectGone(pids: readonly number[]): Promise<void> {
  const until = performance.now() + SOON_MS;
  while (pids.some(isAlive) && performance.now() < until) await wait(20);
  expect(pids.filter(isAlive)).toEqual([]);
}
