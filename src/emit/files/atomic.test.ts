import { createHash } from "node:crypto";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { RepetendError } from "../../errors.js";
import { makeFolder, writeAtomically } from "./atomic.js";

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "repetend-atomic-"));
});
afterEach(() => rmSync(folder, { recursive: true }));

const refusal = async (work: Promise<unknown>): Promise<RepetendError> =>
  work.then(
    () => {
      throw new Error("nothing was refused");
    },
    (error: unknown) => {
      if (error instanceof RepetendError) return error;
      throw error;
    },
  );

describe("writeAtomically", () => {
  it("writes parts in order and says size and hash", async () => {
    const path = join(folder, "tide.txt");
    const file = await writeAtomically(path, async (sink) => {
      await sink.write("low ");
      await sink.write(Uint8Array.of(0x74, 0x69, 0x64, 0x65));
    });
    expect(readFileSync(path, "utf8")).toBe("low tide");
    expect(file).toEqual({ path, bytes: 8, sha256: createHash("sha256").update("low tide").digest("hex") });
    expect(readdirSync(folder)).toEqual(["tide.txt"]);
  });

  it("overwrites bytes in place, goes on at the end, and hashes what stands there at last", async () => {
    const path = join(folder, "tide.txt");
    const file = await writeAtomically(path, async (sink) => {
      await sink.write("low tide");
      await sink.patch(0, Buffer.from("ebb"));
      await sink.write(" turns");
      await sink.patch(4, new Uint8Array(0));
    });
    expect(readFileSync(path, "utf8")).toBe("ebb tide turns");
    const sha256 = createHash("sha256").update("ebb tide turns").digest("hex");
    expect(file).toEqual({ path, bytes: 14, sha256 });
  });

  it("overwrites nothing outside what was written", async () => {
    const path = join(folder, "tide.txt");
    for (const position of [-1, 0.5, 6, Number.NaN]) {
      const error = await refusal(
        writeAtomically(path, async (sink) => {
          await sink.write("low tide");
          await sink.patch(position, Buffer.from("ebb"));
        }),
      );
      expect(error.code).toBe("E_NUMBER");
    }
    expect(readdirSync(folder)).toEqual([]);
  });

  it("leaves the old file and no temporary when the writer fails half way", async () => {
    const path = join(folder, "tide.txt");
    writeFileSync(path, "old");
    const full = Object.assign(new Error("no space"), { code: "ENOSPC" });
    const error = await refusal(
      writeAtomically(path, async (sink) => {
        await sink.write("half");
        throw full;
      }),
    );
    expect([error.code, error.input, error.problem]).toEqual([
      "E_WRITE",
      path,
      "cannot write: the disk is full",
    ]);
    expect(readFileSync(path, "utf8")).toBe("old");
    expect(readdirSync(folder)).toEqual(["tide.txt"]);
  });

  it("throws on what is no error of the file system", async () => {
    const stop = new Error("stop");
    const work = writeAtomically(join(folder, "a"), () => Promise.reject(stop));
    await expect(work).rejects.toBe(stop);
    expect(readdirSync(folder)).toEqual([]);
  });

  it("refuses a path through a file, into no folder, and onto a folder", async () => {
    writeFileSync(join(folder, "file"), "");
    mkdirSync(join(folder, "folder"));
    const write = (name: string) => refusal(writeAtomically(join(folder, name), (sink) => sink.write("x")));
    for (const name of ["file/a.png", "missing/a.png", "folder"]) {
      const error = await write(name);
      expect([name, error.code, error.input]).toEqual([name, "E_WRITE", join(folder, name)]);
    }
    expect(readdirSync(folder).sort()).toEqual(["file", "folder"]);
  });

  it("keeps each of two writers' files whole", async () => {
    const path = join(folder, "both");
    const writer = (letter: string) =>
      writeAtomically(path, async (sink) => {
        for (let k = 0; k < 50; k++) await sink.write(letter.repeat(100));
      });
    await Promise.all([writer("a"), writer("b")]);
    expect(["a".repeat(5000), "b".repeat(5000)]).toContain(readFileSync(path, "utf8"));
    expect(readdirSync(folder)).toEqual(["both"]);
  });
});

describe("makeFolder", () => {
  it("makes folders that are missing and accepts those that stand", async () => {
    await makeFolder(join(folder, "a", "b"));
    await makeFolder(join(folder, "a", "b"));
    expect(readdirSync(join(folder, "a"))).toEqual(["b"]);
  });

  it.runIf(process.platform === "linux")("gives up where a file system makes no folders", async () => {
    expect((await refusal(makeFolder("/proc/repetend/out"))).code).toBe("E_WRITE");
  });

  it("refuses a name that no system takes", async () => {
    for (const write of [
      makeFolder("a\0b"),
      writeAtomically(join(folder, "a\0b"), (sink) => sink.write("x")),
    ]) {
      const error = await refusal(write);
      expect([error.code, error.problem]).toEqual([
        "E_WRITE",
        "cannot write: a path holds no character U+0000",
      ]);
    }
  });

  it("refuses where a file stands", async () => {
    writeFileSync(join(folder, "file"), "");
    expect((await refusal(makeFolder(join(folder, "file")))).code).toBe("E_WRITE");
    expect((await refusal(makeFolder(join(folder, "file", "b")))).code).toBe("E_WRITE");
  });
});
