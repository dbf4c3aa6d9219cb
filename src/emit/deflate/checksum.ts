/** The largest prime below 2^16, from RFC 1950, section 9. */
export const ADLER_BASE = 65521;

/** So many words are summed before the sums must be reduced: with 3600 bytes both stay below 2^31. */
const RUN = 900;

/** The sums of RFC 1950, section 8.2, before they are put together. */
interface Sums {
  readonly a: number;
  readonly b: number;
}

/** Adds a few bytes. */
function addBytes({ a, b }: Sums, bytes: Uint8Array): Sums {
  let [sum, sums] = [a, b];
  for (const byte of bytes) {
    sum += byte;
    sums += sum;
  }
  return { a: sum % ADLER_BASE, b: sums % ADLER_BASE };
}

/**
 * Adds words of four bytes each. Of a word's bytes d1 to d4 the sum rises by d1 + d2 + d3 + d4, and the sum of sums by
 * four times the sum before and 4 d1 + 3 d2 + 2 d3 + d4. Pictures have runs of one word, and these are arithmetic series.
 */
function addWords({ a, b }: Sums, words: Int32Array): Sums {
  let [sum, sums] = [a, b];
  for (let start = 0; start < words.length; start += RUN) {
    const end = Math.min(start + RUN, words.length);
    for (let at = start; at < end; ) {
      const word = words[at] as number;
      const [first, second, third, fourth] = [
        word & 255,
        (word >>> 8) & 255,
        (word >>> 16) & 255,
        word >>> 24,
      ];
      const plain = first + second + third + fourth;
      const weighted = 4 * first + 3 * second + 2 * third + fourth;
      const from = at++;
      if (at === end || words[at] !== word) {
        sums = (sums + 4 * sum + weighted) | 0;
        sum = (sum + plain) | 0;
        continue;
      }
      while (at < end && words[at] === word) at++;
      const count = at - from;
      sums = (sums + count * (4 * sum + weighted) + 2 * count * (count - 1) * plain) | 0;
      sum = (sum + count * plain) | 0;
    }
    sum %= ADLER_BASE;
    sums %= ADLER_BASE;
  }
  return { a: sum, b: sums };
}

/** Whether words are stored from their lowest byte on, as on nearly all machines. */
const IS_LITTLE_ENDIAN: boolean = new Uint8Array(Uint32Array.of(1).buffer)[0] === 1;

/** The Adler-32 checksum of these bytes (RFC 1950, section 8.2). */
export function adler32(bytes: Uint8Array): number {
  const { buffer, byteOffset, length } = bytes;
  const words = IS_LITTLE_ENDIAN && byteOffset % 4 === 0 ? length >> 2 : 0;
  let sums = addWords({ a: 1, b: 0 }, new Int32Array(buffer, words === 0 ? 0 : byteOffset, words));
  for (let at = 4 * words; at < length; at += RUN) sums = addBytes(sums, bytes.subarray(at, at + RUN));
  return joinSums(sums.a, sums.b);
}

/** A checksum of its two sums, each below {@link ADLER_BASE}. */
export const joinSums = (a: number, b: number): number => ((b << 16) | a) >>> 0;

/**
 * The checksum of two pieces laid end to end, from theirs and the second one's length in bytes.
 * With sums a = 1 + S and b as RFC 1950 defines them, every byte of the second piece sees the first one's sum:
 * a = a1 + a2 - 1 and b = b1 + b2 + length (a1 - 1), modulo 65521.
 */
export function joinAdler32(first: number, second: number, secondLength: number): number {
  const [a1, b1] = [first & 0xffff, first >>> 16];
  const [a2, b2] = [second & 0xffff, second >>> 16];
  const a = (a1 + a2 + ADLER_BASE - 1) % ADLER_BASE;
  const b = (b1 + b2 + (secondLength % ADLER_BASE) * ((a1 + ADLER_BASE - 1) % ADLER_BASE)) % ADLER_BASE;
  return joinSums(a, b);
}
