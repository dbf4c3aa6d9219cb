import type { Engine } from "./engine.js";
import { takeOutput } from "./engine.js";
import { drawNative } from "./native.js";

const nextTurn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

/**
 * The native engine for a process that does nothing else: one picture is drawn after the other, and the next one is begun
 * before the last one's pixels are taken, so that a thread draws while this one packs.
 *
 * @param free frees what nobody holds any more: called before a picture is begun, and when the pixels of one are taken.
 */
export function nativePipeline(free: () => void): Engine {
  let last: Promise<void> = Promise.resolve();
  const pass = (): void => {}; // hands nothing on: what was drawn must not be held
  const draw: Engine = async (svg, size) => {
    const drawn = last.then(() => {
      free();
      return drawNative(svg, size);
    });
    last = drawn.then(pass, pass);
    const output = await drawn;
    await nextTurn(); // the next one is begun first
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
