import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { hostname, tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { clearStrays } from "./strays.js";

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "repetend-strays-"));
});
afterEach(() => rmSync(folder, { recursive: true }));

describe("clearStrays", () => {
  it("removes temporaries of a process that is gone, and nothing else", async () => {
    const host = hostname().replace(/[^A-Za-z0-9]/g, "_");
    const dead = spawnSync(process.execPath, ["-e", ""]).pid;
    const stray = `.repetend-${host}-${dead}-1`;
    const kept = [
      ".repetend-notes",
      `.repetend-${host}-${process.ppid}-1`,
      `.repetend-elsewhere-${dead}-1`,
      "a.png",
    ];
    for (const name of [stray, ...kept]) writeFileSync(join(folder, name), "");
    expect(await clearStrays(folder)).toEqual([stray]);
    expect(readdirSync(folder).sort()).toEqual([...kept].sort());
  });

  it("says nothing of a folder that does not exist", async () => {
    expect(await clearStrays(join(folder, "missing"))).toEqual([]);
  });
});
