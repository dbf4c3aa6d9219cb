import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { adler32, joinAdler32 } from "./checksum.js";

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
