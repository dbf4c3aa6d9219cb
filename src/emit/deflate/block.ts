import type { BitWriter } from "./bit-writer.js";
import { canonicalCodes, codeLengths } from "./huffman.js";

/** The symbol that ends a block, and how many literal and length symbols there are (RFC 1951, section 3.2.5). */
export const END_OF_BLOCK = 256;
export const LITERALS_AND_LENGTHS = 286;
export const DISTANCES = 30;

/** A copy is of 3 to 258 bytes. */
export const LONGEST_COPY = 258;
export const SHORTEST_COPY = 3;

/** How a length or distance is written: its symbol, then some bits more. */
export interface ExtraCode {
  readonly symbol: number;
  readonly bits: number;
  readonly extra: number;
}

/** The code of a copy's length, 3 to 258 (RFC 1951, section 3.2.5). */
export function lengthCode(length: number): ExtraCode {
  if (length === LONGEST_COPY) return { symbol: 285, bits: 0, extra: 0 };
  const above = length - SHORTEST_COPY;
  if (above < 8) return { symbol: 257 + above, bits: 0, extra: 0 };
  const bits = 29 - Math.clz32(above);
  return { symbol: 257 + 4 * bits + (above >> bits), bits, extra: above & ((1 << bits) - 1) };
}

/** The code of a distance, 1 to 32,768 (RFC 1951, section 3.2.5). */
export function distanceCode(distance: number): ExtraCode {
  const above = distance - 1;
  if (above < 4) return { symbol: above, bits: 0, extra: 0 };
  const bits = 30 - Math.clz32(above);
  return { symbol: 2 * bits + (above >> bits), bits, extra: above & ((1 << bits) - 1) };
}

/** How many bytes of a longer copy are written next, so that none is left over that is too short. */
export function nextCopy(bytes: number): number {
  if (bytes <= LONGEST_COPY) return bytes;
  return bytes - LONGEST_COPY < SHORTEST_COPY ? bytes - SHORTEST_COPY : LONGEST_COPY;
}

/** A Huffman code as it is used. */
export interface SymbolCode {
  readonly lengths: Uint8Array;
  readonly codes: Uint16Array;
}

const makeCode = (counts: ArrayLike<number>, limit: number): SymbolCode => {
  const lengths = codeLengths(counts, limit);
  return { lengths, codes: canonicalCodes(lengths) };
};

/** The order in which the code lengths' own code lengths are written (RFC 1951, section 3.2.7). */
const ORDER = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];

/** Code lengths with their repetitions told: symbol 16 repeats the last one, 17 and 18 stand for zeros. */
function tellRepeats(lengths: readonly number[]): readonly ExtraCode[] {
  const told: ExtraCode[] = [];
  let at = 0;
  while (at < lengths.length) {
    const value = lengths[at] ?? 0;
    let run = 1;
    while (at + run < lengths.length && lengths[at + run] === value) run++;
    at += run;
    if (value !== 0) {
      told.push({ symbol: value, bits: 0, extra: 0 });
      run--;
    }
    while (run > 0) {
      const [least, most, symbol, bits] =
        value !== 0 ? [3, 6, 16, 2] : run > 10 ? [11, 138, 18, 7] : [3, 10, 17, 3];
      if (run < least) {
        told.push({ symbol: value, bits: 0, extra: 0 });
        run--;
      } else {
        const count = Math.min(run, most);
        told.push({ symbol, bits, extra: count - least });
        run -= count;
      }
    }
  }
  return told;
}

/** The codes of a block with its own (RFC 1951, section 3.2.7). */
export interface BlockCodes {
  readonly literals: SymbolCode;
  readonly distances: SymbolCode;
}

const trimmed = (lengths: Uint8Array, least: number): number[] => {
  let end = lengths.length;
  while (end > least && lengths[end - 1] === 0) end--;
  return [...lengths.subarray(0, end)];
};

/**
 * Starts a block: makes codes for these counts and writes them. The caller writes the symbols and {@link END_OF_BLOCK}.
 *
 * @param literals how often each literal and length symbol occurs, the end of the block included.
 * @param distances how often each distance symbol occurs.
 */
export function startBlock(writer: BitWriter, literals: Uint32Array, distances: Uint32Array): BlockCodes {
  const codes = { literals: makeCode(literals, 15), distances: makeCode(distances, 15) };
  const first = trimmed(codes.literals.lengths, 257);
  const second = trimmed(codes.distances.lengths, 1);
  const told = tellRepeats([...first, ...second]);
  const counts = new Uint32Array(19);
  for (const { symbol } of told) counts[symbol] = (counts[symbol] ?? 0) + 1;
  const lengths = makeCode(counts, 7);
  let written = ORDER.length;
  while (written > 4 && lengths.lengths[ORDER[written - 1] ?? 0] === 0) written--;
  writer.reserve(17 + 3 * 19 + 14 * told.length);
  writer.put(0, 1);
  writer.put(2, 2);
  writer.put(first.length - 257, 5);
  writer.put(second.length - 1, 5);
  writer.put(written - 4, 4);
  for (const symbol of ORDER.slice(0, written)) writer.put(lengths.lengths[symbol] ?? 0, 3);
  for (const { symbol, bits, extra } of told) {
    writer.put(lengths.codes[symbol] ?? 0, lengths.lengths[symbol] ?? 0);
    writer.put(extra, bits);
  }
  return codes;
}

/** An empty block without compression, which ends on a byte: a full flush, where no copy reaches back beyond it. */
export function flushBlocks(writer: BitWriter): void {
  writer.reserve(64);
  writer.put(0, 3);
  writer.align();
  writer.put(0, 16);
  writer.put(0xffff, 16);
}
