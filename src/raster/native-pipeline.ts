import { aFunction } from "../checks.js";
import type { Engine } from "./engine.js";
import { takeOutput } from "./engine.js";
import { drawNative, loadNative } from "./native.js";

const nextTurn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/**
 * Loads the native engine for a process that does nothing else, with a thread that draws one picture after the other while
 * this one packs. The next drawing is handed to that thread before the pixels of the last one are taken; of two that are
 * with it at a time it goes on to the second by itself, and one more picture waits in memory.
 *
 * @param free frees what nobody holds any more: called when pixels were taken.
 * @param handed how many drawings are with the thread at a time, 1 or 2.
 * @throws `RepetendError` E_ARGUMENT for a value of a wrong kind.
 */
export async function openNativePipeline(free: () => void, handed: 1 | 2): Promise<Engine> {
  aFunction(free, "free");
  await loadNative();
  let lastButOne: Promise<void> = Promise.resolve();
  let last: Promise<void> = Promise.resolve();
  const pass = (): void => {}; // hands nothing on: what was drawn must not be held
  const draw: Engine = async (svg, size) => {
    const drawn = (handed === 1 ? last : lastButOne).then(() => drawNative(svg, size));
    lastButOne = last;
    last = drawn.then(pass, pass);
    const output = await drawn;
    await nextTurn(); // the next one is handed over first
    return takeOutput(output, size);
  };
  return async (svg, size) => {
    const image = await draw(svg, size);
    await nextTurn();
    free();
    await nextTurn(); // native memory is given back in a turn of its own
    return image;
  };
}
