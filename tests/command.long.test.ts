import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { expectGone } from "./expect-gone.fixture.js";
import { installCommand } from "./installed-command.fixture.js";

// The command as it is installed: built, in a process of its own, stopped from outside.

let folder = "";
let main = "";
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "repetend-process-"));
  main = await installCommand(join(folder, "package"));
  expect(run("new", join(folder, "saltmarsh")).status).toBe(0);
}, 300_000);
afterAll(() => rmSync(folder, { recursive: true }));

const run = (...argv: readonly string[]) =>
  spawnSync(process.execPath, [main, ...argv], { encoding: "utf8" });

const ended = (child: ChildProcess): Promise<number | string | null> =>
  new Promise((done) => child.once("exit", (code, signal) => done(code ?? signal)));

const namesIn = (dir: string): readonly string[] => {
  try {
    return readdirSync(dir).sort();
  } catch {
    return [];
  }
};

const isTemporary = (name: string) => /^\.repetend-.*-\d+-/.test(name);

/** The processes that a process has started. */
const childrenOf = (pid: number | undefined): readonly number[] => {
  const text = readFileSync(`/proc/${pid}/task/${pid}/children`, "utf8").trim();
  return text === "" ? [] : text.split(/\s+/).map(Number);
};

/** Starts `make` and stops it once a temporary stands in the folder. */
async function stopHalfWay(job: string, out: string, signal: "SIGINT" | "SIGKILL") {
  const child = spawn(process.execPath, [main, "make", job, "--out", out], { stdio: "ignore" });
  const end = ended(child);
  while (!(namesIn(out).some(isTemporary) && namesIn(out).some((name) => name.endsWith(".svg"))))
    await wait(5);
  await wait(300);
  child.kill(signal);
  return end;
}

/** What each file in a folder holds. */
const hashes = (dir: string) =>
  namesIn(dir).map((name) => [
    name,
    createHash("sha256")
      .update(readFileSync(join(dir, name)))
      .digest("hex"),
  ]);

describe("the installed command", () => {
  it("survives SIGINT and SIGKILL with whole files only, and finishes on the next run", async () => {
    const job = join(folder, "saltmarsh", "border.job.json");
    const whole = join(folder, "whole");
    expect(run("make", job, "--out", whole).status).toBe(0);

    const out = join(folder, "out");
    expect(await stopHalfWay(job, out, "SIGINT")).toBe(130);
    expect(namesIn(out).filter((name) => isTemporary(name) || name === "manifest.json")).toEqual([]);

    rmSync(out, { recursive: true });
    expect(await stopHalfWay(job, out, "SIGKILL")).toBe("SIGKILL");
    expect(namesIn(out).filter(isTemporary).length).toBeGreaterThan(0);
    const good = new Map(hashes(whole).map(([name, hash]) => [name, hash]));
    for (const [name, hash] of hashes(out)) {
      if (!isTemporary(name ?? "") && name !== ".repetend-finished")
        expect([name, hash]).toEqual([name, good.get(name)]);
    }

    expect(run("make", job, "--out", out).status).toBe(0);
    expect(hashes(out)).toEqual(hashes(whole));
  });

  it("ends with the same bytes after a kill at any moment, and leaves no process behind", async () => {
    const job = join(folder, "saltmarsh", "half-drop.job.json");
    const whole = join(folder, "half-drop-whole");
    const start = performance.now();
    expect(run("make", job, "--out", whole).status).toBe(0);
    const taken = performance.now() - start;
    for (let moment = 1; moment < 12; moment++) {
      const out = join(folder, `half-drop-${moment}`);
      // Killed again and again until it is done: each run must bring the folder nearer to its end.
      for (let after = (taken * moment) / 12; ; after *= 1.5) {
        const child = spawn(process.execPath, [main, "make", job, "--out", out], { stdio: "ignore" });
        const end = ended(child);
        await Promise.race([end, wait(after)]);
        if (child.exitCode === 0) break;
        const workers = childrenOf(child.pid);
        child.kill("SIGKILL");
        await end;
        await expectGone(workers);
      }
      expect(hashes(out)).toEqual(hashes(whole));
    }
  });

  it("ends quietly when its reader goes away", () => {
    const piped = spawnSync("sh", ["-c", `"${process.execPath}" "${main}" --help | true`], {
      encoding: "utf8",
    });
    expect(piped.stderr).toBe("");
  });

  it("gives the same bytes in another locale and time zone", () => {
    const job = join(folder, "saltmarsh", "brick.job.json");
    const make = (out: string, env: Readonly<Record<string, string>>) => {
      const dir = join(folder, out);
      const ran = spawnSync(process.execPath, [main, "make", job, "--out", dir], {
        env: { ...process.env, ...env },
      });
      expect(ran.status).toBe(0);
      return namesIn(dir).map((name) => readFileSync(join(dir, name)).toString("base64"));
    };
    const here = make("here", { LANG: "C", TZ: "UTC" });
    expect(make("there", { LANG: "tr_TR.UTF-8", LC_ALL: "tr_TR.UTF-8", TZ: "Asia/Kathmandu" })).toEqual(here);
  });
});
