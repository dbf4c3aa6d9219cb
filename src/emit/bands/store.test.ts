import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { BandStore } from "./store.js";
import type { MadeBand } from "./work.js";

let dir = "";
beforeAll(() => {
  dir = mkdtempSync(join(tmpdir(), "repetend-store-"));
});
afterAll(() => rmSync(dir, { recursive: true }));

const bands = fc
  .uniqueArray(fc.nat(1000), { minLength: 1, maxLength: 12 })
  .chain((rows) => fc.tuple(...rows.map((y) => fc.tuple(fc.constant(y), fc.uint8Array({ maxLength: 40 })))))
  .map((list) =>
    list.map(
      ([y, bytes]): MadeBand => ({
        y,
        height: bytes.length + 1,
        rows: [
          { format: "png", pieces: [{ deflated: bytes, adler: y, length: bytes.length }] },
          { format: "tiff", strips: [bytes, Uint8Array.of(y & 255)] },
        ],
      }),
    ),
  );

describe("BandStore", () => {
  it("gives back what was put, however little of it fits into memory, and leaves no file", async () => {
    await fc.assert(
      fc.asyncProperty(bands, fc.constantFrom(0, 30, 100, 1e6), async (list, memory) => {
        const store = new BandStore(join(dir, "tile.png"), memory);
        for (const band of list) await store.put(band);
        expect(readdirSync(dir).length).toBeLessThanOrEqual(memory > 1000 ? 0 : 1);
        for (const band of [...list, ...list]) {
          expect(store.has(band.y)).toBe(true);
          const { y, height, rows } = await store.read(band.y);
          const plain = (one: MadeBand["rows"]) =>
            one.map((row) =>
              row.format === "png"
                ? row.pieces.map(({ deflated, ...rest }) => ({ ...rest, deflated: [...deflated] }))
                : row.strips.map((strip) => [...strip]),
            );
          expect([y, height, plain(rows)]).toEqual([band.y, band.height, plain(band.rows)]);
        }
        const [first] = list;
        if (first !== undefined) {
          store.drop(first.y);
          expect(store.has(first.y)).toBe(false);
          await expect(store.read(first.y)).rejects.toThrow(RangeError);
        }
        await store.close();
        expect(readdirSync(dir)).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });

  it("takes memory that was freed for the next band", async () => {
    const store = new BandStore(join(dir, "tile.png"), 10);
    const band = (y: number): MadeBand => ({
      y,
      height: 1,
      rows: [{ format: "tiff", strips: [new Uint8Array(10)] }],
    });
    for (const y of [0, 1, 2]) {
      await store.put(band(y));
      store.drop(y);
    }
    expect(readdirSync(dir)).toEqual([]);
    await store.close();
  });
});
