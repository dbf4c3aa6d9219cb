import { BitWriter } from "../deflate/bit-writer.js";
import {
  type BlockCodes,
  END_OF_BLOCK,
  type ExtraCode,
  flushBlocks,
  LONGEST_COPY,
  lengthCode,
  nextCopy,
  SHORTEST_COPY,
  startBlock,
} from "../deflate/block.js";
import type { PngPiece } from "./piece.js";
import { COPY, ROW_START } from "./run-copies.js";
import type { RunTokens, TokenBlock } from "./run-tokens.js";

/** The code of every length of a copy, looked up by the length. */
const LENGTH_CODES: readonly ExtraCode[] = Array.from({ length: LONGEST_COPY + 1 }, (_, length) =>
  lengthCode(Math.max(length, SHORTEST_COPY)),
);
const LENGTH_SYMBOLS: Uint16Array = Uint16Array.from(LENGTH_CODES, ({ symbol }) => symbol);
const LENGTH_BITS: Uint8Array = Uint8Array.from(LENGTH_CODES, ({ bits }) => bits);
const LENGTH_EXTRAS: Uint8Array = Uint8Array.from(LENGTH_CODES, ({ extra }) => extra);

/**
 * Compresses a band in these colours. Nothing is looked for: the copies are known, and only the spelled-out pixels and
 * the codes differ from colourway to colourway, so that this takes a small part of compressing the pixels.
 *
 * @param colours RGBA, four bytes a value; of one channel the first counts, of three the first three.
 * @param last whether the picture ends with this band.
 */
export function writeRunPiece(band: RunTokens, colours: Uint8Array): PngPiece {
  const { channels, width, height } = band;
  const writer = new BitWriter();
  for (const block of band.blocks) {
    const codes = startBlock(writer, countLiterals(block, colours, channels), block.distances);
    writeBlock(writer, band, block, codes, colours);
  }
  flushBlocks(writer);
  return { deflated: writer.take(), adler: sumBytes(band, colours), length: height * (width * channels + 1) };
}

function countLiterals(
  { lengths, values, valueCounts }: TokenBlock,
  colours: Uint8Array,
  channels: number,
): Uint32Array {
  const counts = lengths.slice();
  for (let at = 0; at < values.length; at++) {
    const first = 4 * (values[at] as number);
    const times = valueCounts[at] as number;
    for (let byte = first; byte < first + channels; byte++) {
      const level = colours[byte] as number;
      counts[level] = (counts[level] as number) + times;
    }
  }
  return counts;
}

/** Writes a block's tokens. This is the inner loop of all colourways: no objects are made in it. */
function writeBlock(
  writer: BitWriter,
  { tokens, channels }: RunTokens,
  { from, to, lengths, distances }: TokenBlock,
  { literals, distances: distanceCodes }: BlockCodes,
  colours: Uint8Array,
): void {
  const { codes, lengths: sizes } = literals;
  const pixels = to - from;
  const copies = distances.reduce((all, count) => all + count, 0);
  writer.reserve(15 * (pixels * channels + lengths.length) + 48 * copies);
  for (let at = from; at < to; at++) {
    const token = tokens[at] as number;
    if (token < COPY) {
      const first = 4 * token;
      for (let byte = first; byte < first + channels; byte++) {
        const level = colours[byte] as number;
        writer.put(codes[level] as number, sizes[level] as number);
      }
      continue;
    }
    if (token === ROW_START) {
      writer.put(codes[0] as number, sizes[0] as number);
      continue;
    }
    const back = (tokens[++at] as number) - 1;
    // As distanceCode has it, without making an object.
    const more = back < 4 ? 0 : 30 - Math.clz32(back);
    const distance = back < 4 ? back : 2 * more + (back >> more);
    const extra = back & ((1 << more) - 1);
    const code = distanceCodes.codes[distance] as number;
    const size = distanceCodes.lengths[distance] as number;
    let bytes = (token - COPY) * channels;
    while (bytes > 0) {
      const length = nextCopy(bytes);
      const symbol = LENGTH_SYMBOLS[length] as number;
      writer.put(codes[symbol] as number, sizes[symbol] as number);
      writer.put(LENGTH_EXTRAS[length] as number, LENGTH_BITS[length] as number);
      writer.put(code, size);
      writer.put(extra, more);
      bytes -= length;
    }
  }
  writer.put(codes[END_OF_BLOCK] as number, sizes[END_OF_BLOCK] as number);
}

/** The largest prime below 2^16 (RFC 1950, section 9). */
const BASE = 65521;

/**
 * The checksum of the band's bytes, from the places of its values: with n bytes d1 to dn, RFC 1950's sums are
 * a = 1 + sum of di and b = n + sum of (n + 1 - i) di.
 */
function sumBytes({ counts, places, channels, width, height }: RunTokens, colours: Uint8Array): number {
  let [a, b] = [1, (height * (width * channels + 1)) % BASE];
  for (let value = 0; value < counts.length; value++) {
    const count = counts[value] ?? 0;
    if (count === 0) continue;
    for (let channel = 0; channel < channels; channel++) {
      const level = colours[4 * value + channel] ?? 0;
      a = (a + level * (count % BASE)) % BASE;
      b = (b + level * (((places[value] ?? 0) - channel * count) % BASE)) % BASE;
    }
  }
  return ((b << 16) | a) >>> 0;
}
