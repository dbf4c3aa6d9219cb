/** The largest prime below 2^16, from RFC 1950, section 9. */
export const ADLER_BASE = 65521;

/** How many bytes may be summed before the sums must be reduced to stay exact in 32 bits (RFC 1950's code: 5552). */
const RUN = 5552;

/** The Adler-32 checksum of these bytes (RFC 1950, section 8.2). */
export function adler32(bytes: Uint8Array): number {
  let a = 1;
  let b = 0;
  for (let start = 0; start < bytes.length; start += RUN) {
    const end = Math.min(start + RUN, bytes.length);
    for (let i = start; i < end; i++) {
      a += bytes[i] ?? 0;
      b += a;
    }
    a %= ADLER_BASE;
    b %= ADLER_BASE;
  }
  return ((b << 16) | a) >>> 0;
}

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
  return ((b << 16) | a) >>> 0;
}
