import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ADLER_BASE, adler32, joinAdler32 } from "./checksum.js";

describe("adler32", () => {
  // "Wikipedia" gives 11E60398: the worked example of the Adler-32 article, from memory; the sums are by hand.
  it("agrees with a worked example", () => {
    expect(adler32(new TextEncoder().encode("Wikipedia"))).toBe(0x11e60398);
  });

  // RFC 1950: the checksum of nothing is 1.
  it("is 1 for no bytes", () => {
    expect(adler32(new Uint8Array(0))).toBe(1);
  });

  it("stays exact on long runs of the largest byte", () => {
    const length = 1_000_003;
    const a = 1n + 255n * BigInt(length);
    const b = BigInt(length) + (255n * BigInt(length) * BigInt(length + 1)) / 2n;
    const expected = Number(((b % 65521n) << 16n) | (a % 65521n));
    expect(adler32(new Uint8Array(length).fill(255))).toBe(expected);
  });

  // The definition of RFC 1950, section 8.2, byte by byte.
  it("is the sums of the definition, for runs and noise at any place in memory", () => {
    const run = fc.record({ byte: fc.nat(255), length: fc.integer({ min: 1, max: 5000 }) });
    const noise = fc.uint8Array({ maxLength: 3000 });
    fc.assert(
      fc.property(fc.array(fc.oneof(run, noise), { maxLength: 6 }), fc.nat(7), (parts, offset) => {
        const all = parts.flatMap((part) =>
          part instanceof Uint8Array ? [...part] : new Array<number>(part.length).fill(part.byte),
        );
        const bytes = new Uint8Array(new ArrayBuffer(all.length + offset), offset);
        bytes.set(all);
        let [a, b] = [1, 0];
        for (const byte of bytes) {
          a = (a + byte) % ADLER_BASE;
          b = (b + a) % ADLER_BASE;
        }
        expect(adler32(bytes)).toBe(b * 2 ** 16 + a);
      }),
    );
  });

  it("joins two pieces as if they had been one", () => {
    const bytes = fc.uint8Array({ maxLength: 20_000 });
    fc.assert(
      fc.property(bytes, bytes, (first, second) => {
        const whole = new Uint8Array([...first, ...second]);
        expect(joinAdler32(adler32(first), adler32(second), second.length)).toBe(adler32(whole));
      }),
    );
  });
});
