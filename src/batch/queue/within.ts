import { setTimeout as wait } from "node:timers/promises";

/** Awaits work, for at most so long, in ms; what comes of it later is not asked for. */
export async function within(most: number, work: Promise<unknown>): Promise<void> {
  const clock = new AbortController(); // a clock that runs on would hold up the end of the process
  try {
    await Promise.race([work, wait(most, undefined, { signal: clock.signal })]);
  } finally {
    clock.abort();
  }
}
