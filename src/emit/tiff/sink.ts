import { anObject, bytes, listOf } from "../../checks.js";
import { RepetendError } from "../../errors.js";
import { aSink } from "../checks.js";
import type { FileSink } from "../files/atomic.js";
import { tiffAlignment, tiffDirectory } from "./directory.js";
import { checkTiffHeader, countStrips, isBigTiff, TIFF_LIMIT, type TiffHeader } from "./format.js";

/** A little-endian TIFF's first bytes (TIFF 6.0, section 2), and BigTIFF's; where the directory stands comes later. */
const CLASSIC_START = Uint8Array.of(0x49, 0x49, 42, 0, 0, 0, 0, 0);
const BIG_START = Uint8Array.of(0x49, 0x49, 43, 0, 8, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0);

/**
 * A TIFF that is written strip by strip from outside, for when many are written side by side. Of the picture it keeps
 * only where each strip lies and how long it is.
 */
export class TiffSink {
  readonly #sink: FileSink;
  readonly #wanted: { readonly isBig?: boolean };
  readonly #offsets: number[] = [];
  readonly #counts: number[] = [];
  #header: TiffHeader | undefined;
  #isBig = false;
  #at = 0;

  /**
   * @param sink an empty file.
   * @param options - `isBig`: whether to write BigTIFF. Default: as {@link isBigTiff} says of the header.
   */
  constructor(sink: FileSink, options: { readonly isBig?: boolean } = {}) {
    aSink(sink, "sink");
    anObject(options, "options");
    this.#sink = sink;
    this.#wanted = options;
  }

  /**
   * Writes what stands in front of the pixels.
   *
   * @throws `RepetendError` E_SIZE, E_TOO_LARGE, E_FORMAT or E_COLOUR for what a TIFF cannot hold.
   */
  async start(header: TiffHeader): Promise<void> {
    checkTiffHeader(header);
    this.#header = header;
    this.#isBig = this.#wanted.isBig ?? isBigTiff(header);
    await this.#write(this.#isBig ? BIG_START : CLASSIC_START);
  }

  /** Writes strips, in order. */
  async add(strips: readonly Uint8Array[]): Promise<void> {
    listOf(bytes)(strips, "strips");
    for (const strip of strips) {
      await this.#align();
      this.#offsets.push(this.#at);
      this.#counts.push(strip.length);
      await this.#write(strip);
    }
  }

  /**
   * Writes the directory behind the strips, and its place into the first bytes.
   *
   * @throws `RepetendError` E_IMAGE when strips are missing or too many.
   */
  async end(): Promise<void> {
    const header = this.#header;
    const wanted = header === undefined ? 0 : countStrips(header);
    if (header === undefined || this.#offsets.length !== wanted) {
      throw new RepetendError("E_IMAGE", "the strips do not fill the picture", {
        value: `${this.#offsets.length} strips`,
        accepted: `${wanted} strips`,
      });
    }
    await this.#align();
    const place = this.#at;
    const places = { offsets: this.#offsets, counts: this.#counts };
    await this.#write(tiffDirectory(header, places, place, this.#isBig));
    const bytes = Buffer.alloc(this.#isBig ? 8 : 4);
    if (this.#isBig) bytes.writeBigUInt64LE(BigInt(place));
    else bytes.writeUInt32LE(place);
    await this.#sink.patch(this.#isBig ? 8 : 4, bytes);
  }

  async #align(): Promise<void> {
    const over = this.#at % tiffAlignment(this.#isBig);
    if (over > 0) await this.#write(new Uint8Array(tiffAlignment(this.#isBig) - over));
  }

  async #write(bytes: Uint8Array): Promise<void> {
    this.#at += bytes.length;
    if (!this.#isBig && this.#at > TIFF_LIMIT) {
      throw new RepetendError("E_TOO_LARGE", "the file would pass the 4 GiB of classic TIFF", {
        value: `${this.#at} bytes`,
        accepted: `at most ${TIFF_LIMIT} bytes`,
      });
    }
    await this.#sink.write(bytes);
  }
}
