import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readlinkSync, rmSync, writeFileSync } from "node:fs";
import { open } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { RepetendError } from "../errors.js";
import { readWithin } from "./read-within.js";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "repetend-within-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

const refusal = async (path: string, limit: number): Promise<string> =>
  readWithin(path, limit).then(
    () => "none",
    (error: unknown) => (error instanceof RepetendError ? `${error.code} ${error.problem}` : String(error)),
  );

describe("readWithin", () => {
  it.each([0, 1, 9, 10])("reads a file of %i bytes up to a limit of 10", async (length) => {
    const path = join(folder, "tide");
    const bytes = Uint8Array.from({ length }, (_, k) => k);
    writeFileSync(path, bytes);
    expect([...(await readWithin(path, 10))]).toEqual([...bytes]);
  });

  it("refuses one byte more than its limit", async () => {
    const path = join(folder, "flood");
    writeFileSync(path, new Uint8Array(11));
    expect(await refusal(path, 10)).toBe("E_LIMIT the file is too large");
  });

  it.runIf(existsSync("/dev/zero"))("stops reading what has no end and states no size", async () => {
    expect(await refusal("/dev/zero", 5_000_000)).toBe("E_LIMIT the file is too large");
  });

  it.runIf(existsSync("/proc/self/status"))("reads what states no size, but has an end", async () => {
    expect(new TextDecoder().decode(await readWithin("/proc/self/status", 1e6))).toContain("Name:");
  });

  describe.skipIf(process.platform === "win32")("with a pipe", () => {
    const makePipe = (name: string): string => {
      const pipe = join(folder, name);
      execFileSync("mkfifo", [pipe]);
      return pipe;
    };
    // Opened for both, a pipe waits for no reader.
    const openWriter = (pipe: string) => open(pipe, "r+");

    /** Until the reader has it, too: what was written into a pipe is gone when the last one closes it. */
    async function untilTwiceOpen(pipe: string): Promise<void> {
      if (!existsSync("/proc/self/fd")) return wait(500);
      const isPipe = (handle: string): boolean => {
        try {
          return readlinkSync(`/proc/self/fd/${handle}`) === pipe;
        } catch {
          return false; // closed since
        }
      };
      while (readdirSync("/proc/self/fd").filter(isPipe).length < 2) await wait(5);
    }

    it("refuses one into which nobody writes", async () => {
      expect(await refusal(makePipe("dry"), 10)).toBe(
        "E_READ cannot read: nothing is written into this pipe",
      );
    });

    it("waits for what its writer has not written yet, and reads to the end", async () => {
      const pipe = makePipe("creek");
      const writer = await openWriter(pipe);
      const reading = readWithin(pipe, 10);
      await untilTwiceOpen(pipe);
      await writer.write("ebb");
      await writer.close();
      expect(new TextDecoder().decode(await reading)).toBe("ebb");
    });

    it("stops waiting when it is told to", async () => {
      const pipe = makePipe("slack");
      const writer = await openWriter(pipe);
      const stop = new AbortController();
      const reading = readWithin(pipe, 10, stop.signal);
      stop.abort(new Error("enough"));
      await expect(reading).rejects.toThrow("enough");
      await writer.close();
    });
  });

  it("says why a file cannot be read", async () => {
    expect(await refusal(join(folder, "none"), 10)).toBe("E_READ cannot read: there is no such file");
    expect(await refusal(folder, 10)).toBe("E_READ cannot read: it is a folder");
    expect(await refusal(join(folder, "x".repeat(3000)), 10)).toBe(
      "E_READ cannot read: the name is too long",
    );
  });
});
