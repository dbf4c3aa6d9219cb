import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import type { PixelImage } from "../../image/index.js";

type Transfer = (this: ArrayBufferLike, length: number) => ArrayBuffer;

/** Of ECMAScript 2024: in every Node from 22 on, and in 20 for contexts that are made behind a flag. */
const ours: Transfer | undefined = (ArrayBuffer.prototype as { transfer?: Transfer }).transfer;
if (ours === undefined) setFlagsFromString("--harmony-rab-gsab-transfer");
setFlagsFromString("--expose-gc");
const { collect, theirs } = runInNewContext("({ collect: gc, theirs: ArrayBuffer.prototype.transfer })") as {
  readonly collect: (young?: { readonly type: "minor" }) => void;
  readonly theirs?: Transfer;
};
const transfer = ours ?? theirs;

/**
 * Frees pictures that nobody holds any more. They lie outside of the heap, where their size does not count: left to itself
 * the engine collects them much later, and each next one takes fresh memory. Promises that waited for them may be old by
 * then, and keep them from a collection of what is young. A whole one takes some ms; it is asked for without a kind, since
 * Node 20 makes a small one of whatever kind it is asked for.
 *
 * @param every so many calls all is collected, and what is young at the others.
 */
export function pictureFreer(every: number): () => void {
  let calls = 0;
  return () => {
    calls++;
    if (calls % every === 0) collect();
    else collect({ type: "minor" });
  };
}

/** Gives back the memory of a picture that is done with, without a collection. Its pixels are gone. */
export function dropPicture({ data }: PixelImage): void {
  try {
    transfer?.call(data.buffer, 0);
  } catch {
    // Memory that cannot be taken from its owner is left to a collection.
  }
}
