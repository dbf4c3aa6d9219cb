import { spawnSync } from "node:child_process";
import { describe, expect, it } from "vitest";
import { nameLibrary, readQueueKind } from "./kind.js";

const ldd = spawnSync("ldd", ["--version"], { encoding: "utf8" });

describe("the kind of a machine", () => {
  it("holds the system's library where there are several, and no other name", () => {
    expect(nameLibrary("linux", () => ({ glibcVersionRuntime: "2.36" }))).toBe("glibc 2.36");
    expect(nameLibrary("linux", () => ({}))).toBe("musl");
    const unread = () => {
      throw new Error("only Linux is asked");
    };
    expect(nameLibrary("darwin", unread)).toBeUndefined();
    expect(nameLibrary("win32", unread)).toBeUndefined();
  });

  it.runIf(process.platform === "linux" && ldd.error === undefined)("knows the library of this one", () => {
    const said = `${ldd.stdout}${ldd.stderr}`;
    const version = /\b(\d+\.\d+)$/m.exec(said)?.[1];
    expect(nameLibrary("linux")).toBe(/musl/.test(said) ? "musl" : `glibc ${version}`);
  });

  it("keeps machines of other libraries, or other versions of them, in queues of their own", async () => {
    const own = await readQueueKind();
    expect(await readQueueKind()).toEqual(own);
    const kinds = await Promise.all(
      ["glibc 2.36", "glibc 2.41", "musl"].map((library) => readQueueKind(library)),
    );
    expect(new Set(kinds.map(({ name }) => name)).size).toBe(3);
    expect(kinds.map(({ words }) => words.endsWith(`${process.arch} musl`))).toEqual([false, false, true]);
    for (const { name } of [own, ...kinds]) expect(name).toMatch(/^bands-[0-9a-f]{16}$/);
  });
});
