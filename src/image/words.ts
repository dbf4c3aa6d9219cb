import type { PixelImage } from "./pixels.js";

/** The pixels of an RGBA picture as 32-bit words of the machine's own order, and words from row to row. */
export interface PixelWords {
  readonly words: Uint32Array;
  readonly stride: number;
}

/** An RGBA picture as words, for telling equal pixels; its bytes are copied only where they do not lie on words. */
export function wordsOf({ data, stride, height, width }: PixelImage): PixelWords {
  const length = stride * (height - 1) + width * 4;
  if (stride % 4 === 0 && data.byteOffset % 4 === 0) {
    return { words: new Uint32Array(data.buffer, data.byteOffset, length / 4), stride: stride / 4 };
  }
  const copy = new Uint8Array(width * height * 4);
  for (let y = 0; y < height; y++) {
    copy.set(data.subarray(y * stride, y * stride + width * 4), y * width * 4);
  }
  return { words: new Uint32Array(copy.buffer), stride: width };
}
