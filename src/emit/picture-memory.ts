import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import type { PixelImage } from "../image/index.js";

type Transfer = (this: ArrayBufferLike, length: number) => ArrayBuffer;

/** Of ECMAScript 2024: in every Node from 22 on, and in 20 for contexts that are made behind a flag. */
const ours: Transfer | undefined = (ArrayBuffer.prototype as { transfer?: Transfer }).transfer;
if (ours === undefined) setFlagsFromString("--harmony-rab-gsab-transfer");
setFlagsFromString("--expose-gc");
const { collect, theirs } = runInNewContext("({ collect: gc, theirs: ArrayBuffer.prototype.transfer })") as {
  readonly collect: () => void;
  readonly theirs?: Transfer;
};
const transfer = ours ?? theirs;

/**
 * Frees pictures that nobody holds any more, with a whole collection: asked for one of a kind, Node 20 makes a small one,
 * whatever the kind. Pictures lie outside of the heap, where their size does not count: left to
 * itself the engine collects them much later, and each next one takes fresh memory. Promises that waited for them are old
 * by then, and keep them from a collection of what is young; a whole one takes some ms, since a worker's heap is small.
 */
export const freePictures = (): void => collect();

/** Gives back the memory of a picture that is done with, without a collection. Its pixels are gone. */
export function dropPicture({ data }: PixelImage): void {
  try {
    transfer?.call(data.buffer, 0);
  } catch {
    // Memory that cannot be taken from its owner is left to a collection.
  }
}
