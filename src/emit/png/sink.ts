import { joinAdler32 } from "../deflate/checksum.js";
import type { FileSink } from "../files/atomic.js";
import { PNG_ZLIB_START, pngChecksum } from "./encode.js";
import { type PngHeader, pngChunk, pngStart } from "./format.js";
import { PIECES_END, type PngPiece } from "./piece.js";

/** A PNG that is written piece by piece from outside, for when many are written side by side. */
export class PngSink {
  readonly #sink: FileSink;
  #adler = 1;
  #start: readonly Uint8Array[] = [PNG_ZLIB_START];

  constructor(sink: FileSink) {
    this.#sink = sink;
  }

  /** Writes everything in front of the pixels. */
  start(header: PngHeader): Promise<void> {
    return this.#sink.write(pngStart(header));
  }

  /** Writes rows. */
  async add(piece: PngPiece): Promise<void> {
    this.#adler = joinAdler32(this.#adler, piece.adler, piece.length);
    const chunk = pngChunk("IDAT", ...this.#start, piece.deflated);
    this.#start = [];
    await this.#sink.write(chunk);
  }

  async end(): Promise<void> {
    await this.#sink.write(pngChunk("IDAT", PIECES_END, pngChecksum(this.#adler)));
    await this.#sink.write(pngChunk("IEND"));
  }
}
