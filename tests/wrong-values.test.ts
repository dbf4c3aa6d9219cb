import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import {
  BandPool,
  CmykConverter,
  makeFolder,
  TiffSink,
  toLabPixels,
  writeAtomically,
} from "../src/emit/index.js";
import * as repetend from "../src/index.js";
import { BUILDING_BLOCKS, NO_DOORS, OTHER_ENTRIES, RIGHT_CALLS, rightDoors } from "./wrong-values.fixture.js";

/** What people hand in by mistake where nothing checks their types. */
const WRONG: readonly unknown[] = [null, undefined, 5, Number.NaN, "words", {}, [], [null], () => undefined];

const isPlain = (value: object): boolean => Object.getPrototypeOf(value) === Object.prototype;

/** What a person writes by hand, as opposed to what repetend made, which says so, and to buffers. */
const isWritten = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" &&
  value !== null &&
  (Array.isArray(value) || (isPlain(value) && !("type" in value) && (!("kind" in value) || "step" in value)));

const put = (into: object, key: string, value: unknown): unknown =>
  Array.isArray(into)
    ? into.map((item, index) => (String(index) === key ? value : item))
    : { ...into, [key]: value };

const nameOf = (value: unknown): string =>
  typeof value === "object" ? JSON.stringify(value) : String(value);

/** The value itself gone wrong, then each of its parts. */
function* spoil(value: unknown): Generator<{ readonly spoiled: unknown; readonly at: string }> {
  for (const spoiled of WRONG) yield { spoiled, at: ` = ${nameOf(spoiled)}` };
  if (!isWritten(value)) return;
  for (const [key, part] of Object.entries(value)) {
    // A folder of any name would be made.
    if (key === "dir" || key === "out") continue;
    for (const { spoiled, at } of spoil(part))
      yield { spoiled: put(value, key, spoiled), at: `.${key}${at}` };
  }
}

/** What a call answers, to the end: streams are read, and of arbitraries one value is drawn. */
async function take(answer: unknown): Promise<void> {
  const given = await answer;
  if (typeof given !== "object" || given === null) return;
  if (Symbol.asyncIterator in given) for await (const _ of given as AsyncIterable<unknown>);
  if ("generate" in given) fc.sample(given as fc.Arbitrary<unknown>, { numRuns: 1, seed: 7 });
}

/** The calls with something wrong in them that end in another error than ours. */
/** These make what they are given a path of: words would come to lie beside the sources. */
const MAKERS: readonly unknown[] = [makeFolder, writeAtomically];

async function findTorn(
  call: (...given: readonly unknown[]) => unknown,
  given: readonly unknown[],
): Promise<readonly string[]> {
  const torn: string[] = [];
  for (const [index, argument] of given.entries()) {
    for (const { spoiled, at } of spoil(argument)) {
      if (MAKERS.includes(call) && index === 0 && typeof spoiled === "string") continue;
      try {
        await take(call(...given.map((one, place) => (place === index ? spoiled : one))));
      } catch (error) {
        if (!(error instanceof repetend.RepetendError)) torn.push(`argument ${index + 1}${at}: ${error}`);
      }
    }
  }
  return torn;
}

const isFunction = (value: unknown): value is (...given: readonly unknown[]) => unknown =>
  typeof value === "function";

const functions = Object.entries<unknown>(repetend).flatMap(([name, value]) =>
  isFunction(value) ? [[name, value] as const] : [],
);

describe("the root entry in plain JavaScript", () => {
  it("has a right call of every function, but for the building blocks", () => {
    const names = functions.map(([name]) => name).filter((name) => !BUILDING_BLOCKS.includes(name));
    expect(Object.keys(RIGHT_CALLS).sort()).toEqual(names.sort());
  });

  it.each(Object.entries(RIGHT_CALLS))("answers or refuses whatever %s is given", async (name, given) => {
    const call = functions.find(([known]) => known === name)?.[1];
    if (call === undefined) throw new Error(`there is no ${name}`);
    await call(...given);
    expect(await findTorn(call, given)).toEqual([]);
  });

  it.each([
    [() => repetend.motif(null as never), "drawing", "null"],
    [() => repetend.place(undefined as never, { at: [0, 0] }), "motif", "undefined"],
    [() => repetend.straight(undefined as never), "options", "undefined"],
    [
      () => repetend.straight({ name: "Sand", width: 9, height: 9, motifs: [], grain: "warp" as never }),
      "options.grain",
      "warp",
    ],
    [() => repetend.border({ name: "Shore", repeat: 9, width: 9, bands: 5 as never }), "options.bands", "5"],
  ])("says where, what was met and what is accepted: %s", (call, where, value) => {
    expect(call).toThrow(expect.objectContaining({ where, value, accepted: expect.stringMatching(/./) }));
  });
});

describe("the other entries in plain JavaScript", () => {
  it("have a right call of every function, but for classes and servers", () => {
    const names = OTHER_ENTRIES.flatMap((entry) =>
      Object.entries(entry).flatMap(([name, value]) =>
        isFunction(value) && !NO_DOORS.includes(name) ? [name] : [],
      ),
    );
    expect(
      rightDoors("")
        .map(([name]) => name)
        .sort(),
    ).toEqual(names.sort());
  });

  let dir = "";
  beforeAll(() => {
    dir = mkdtempSync(join(tmpdir(), "repetend-wrong-"));
  });
  afterAll(() => rmSync(dir, { recursive: true }));

  it.each(rightDoors("").map(([name], index) => [name, index] as const))(
    "answer or refuse whatever %s is given",
    async (_, index) => {
      const [, call, given] = rightDoors(dir)[index] ?? [];
      if (!isFunction(call) || given === undefined) throw new Error("there is no such call");
      await take(call(...given));
      expect(await findTorn(call, given)).toEqual([]);
    },
  );

  const image = { width: 2, height: 1, channels: 3, data: new Uint8Array(6), stride: 6 } as const;
  it.each([
    ["BandPool", () => new BandPool(5 as never)],
    ["BandPool", () => new BandPool({ engine: "paper" as never })],
    ["TiffSink", () => new TiffSink({} as never)],
    [
      "TiffSink.start",
      () => new TiffSink({ write: async () => {}, patch: async () => {} }).start(null as never),
    ],
    ["TiffSink.add", () => new TiffSink({ write: async () => {}, patch: async () => {} }).add([5] as never)],
    ["CmykConverter.open", () => CmykConverter.open(null as never)],
    ["toLabPixels", () => toLabPixels({ ...image, data: "#fff" as never })],
  ])("refuses what %s cannot take", async (_, call) => {
    await expect((async () => call())()).rejects.toThrow(repetend.RepetendError);
  });
});
