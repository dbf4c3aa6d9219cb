import { spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type JobProgress, makeJob } from "../src/batch/index.js";
import { expectGone } from "./expect-gone.fixture.js";
import { filesIn } from "./files-in.fixture.js";

// A run may be stopped at any moment, from inside and from outside: the next one goes on, and ends with the same bytes.

const root = fileURLToPath(new URL("..", import.meta.url));
let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "repetend-resume-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

const LEAF =
  '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="30mm" viewBox="0 0 20 30">' +
  '<path d="M10 1C19 8 19 20 12 29C3 22 1 10 10 1Z" fill="#3c6e5a"/><circle cx="3" cy="4" r="2.2" fill="#c8553d"/></svg>';

/** A small brick with whole cloth and separations, in a folder of its own. */
function newJob(name: string, emit: object = {}): string {
  const dir = join(folder, name);
  mkdirSync(dir);
  writeFileSync(join(dir, "leaf.svg"), LEAF);
  writeFileSync(
    join(dir, "colourways.csv"),
    "ink,Low Tide,Nightjar\n#3c6e5a,#3c6e5a,#1b2a41\n#c8553d,#c8553d,#d9a441\n#f2ead8,#f2ead8,#1d1a26\n",
  );
  const motifs = [
    { file: "leaf.svg", at: [0, 12], width: 17, turn: 30 },
    { file: "leaf.svg", at: [31, 25], width: 14 },
  ];
  const path = join(dir, "brick.job.json");
  const job = {
    print: { name: "Leaves", layout: "brick", width: 60, height: 50, ground: "#f2ead8", motifs },
    colourways: "colourways.csv",
    emit: { dpi: 60, formats: ["svg", "png", "tiff"], length: "20cm", separations: {}, sheet: true, ...emit },
  };
  writeFileSync(path, JSON.stringify(job));
  return path;
}

/** What a run did: the files that it made, and those that it kept. */
async function make(job: string, out: string, options: Parameters<typeof makeJob>[1] = {}) {
  const made: string[] = [];
  const kept: string[] = [];
  const onProgress = (progress: JobProgress) => {
    if (progress.kind === "file") made.push(progress.file.path);
    if (progress.kind === "kept") kept.push(progress.file.path);
  };
  const manifest = await makeJob(job, { workers: 0, ...options, out, onProgress });
  return { manifest, made, kept };
}

describe("a run that was stopped", () => {
  it("goes on behind the last file that was whole, whichever that was", async () => {
    const job = newJob("stopped");
    const whole = join(folder, "stopped-whole");
    const { manifest, made } = await make(job, whole);
    expect(made.length).toBe(manifest.files.length);
    const good = filesIn(whole);
    for (const count of [1, Math.floor(made.length / 2), made.length - 1]) {
      const out = join(folder, `stopped-${count}`);
      const stop = new AbortController();
      let files = 0;
      const run = makeJob(job, {
        workers: 0,
        out,
        signal: stop.signal,
        onProgress: ({ kind }) => {
          if (kind === "file" && ++files === count) stop.abort(new Error("enough"));
        },
      });
      await expect(run).rejects.toThrow("enough");
      const left = readdirSync(out).filter((name) => !name.startsWith("."));
      expect(left).not.toContain("manifest.json");
      const again = await make(job, out);
      expect([...again.kept].sort()).toEqual(left.sort());
      expect(again.manifest).toEqual(manifest);
      expect(filesIn(out)).toEqual(good);
    }
  });

  it("by a kill from outside goes on as well, and leaves no process behind", async () => {
    const job = newJob("killed", { dpi: 1500, separations: undefined, length: undefined });
    const whole = join(folder, "killed-whole");
    const command = (out: string) => [
      "--import",
      "tsx",
      join(root, "src", "cli", "main.ts"),
      "make",
      job,
      "--out",
      out,
      "--workers",
      "2",
    ];
    const out = join(folder, "killed-out");
    const child = spawn(process.execPath, command(out), { stdio: "ignore", cwd: root });
    const end = new Promise((done) => child.once("exit", (_, signal) => done(signal)));
    const names = () => {
      try {
        return readdirSync(out);
      } catch {
        return [];
      }
    };
    // In the middle of a picture: its temporary has begun, and another file is whole and listed.
    const isBegun = (name: string) => /^\.repetend-.*-\d+-/.test(name);
    const isListed = () =>
      names().includes(".repetend-finished") &&
      readFileSync(join(out, ".repetend-finished"), "utf8").includes("\n");
    while (!(isListed() && names().some(isBegun))) {
      if (child.exitCode !== null) break;
      await wait(5);
    }
    const children = readFileSync(`/proc/${child.pid}/task/${child.pid}/children`, "utf8")
      .trim()
      .split(/\s+/);
    child.kill("SIGKILL");
    expect(await end).toBe("SIGKILL");
    await expectGone(children.filter((one) => one !== "").map(Number));
    expect(names()).not.toContain("manifest.json");
    const good = await make(job, whole);
    const again = await make(job, out);
    expect(again.kept.length).toBeGreaterThan(0);
    expect(again.manifest).toEqual(good.manifest);
    expect(filesIn(out)).toEqual(filesIn(whole));
  });
});

describe("a run over finished files", () => {
  it("draws nothing when nothing has changed, and everything when it is told to", async () => {
    const job = newJob("same");
    const out = join(folder, "same-out");
    const first = await make(job, out);
    const before = filesIn(out);
    const second = await make(job, out);
    expect([second.made, second.manifest]).toEqual([[], first.manifest]);
    const third = await make(job, out, { again: true });
    expect([third.made.length, third.manifest]).toEqual([first.made.length, first.manifest]);
    expect(filesIn(out)).toEqual(before);
  });

  it("makes again what was changed or lost, and no more", async () => {
    const job = newJob("changed", { separations: undefined, length: undefined, formats: ["svg", "png"] });
    const out = join(folder, "changed-out");
    const { made } = await make(job, out);
    const [first = "", second = ""] = made.filter((name) => name.endsWith(".png"));
    writeFileSync(join(out, first), "not what was drawn");
    rmSync(join(out, second));
    expect((await make(job, out)).made.sort()).toEqual([first, second].sort());

    // One ink of one colourway: its own files only, and the sheet that shows all.
    const table = join(folder, "changed", "colourways.csv");
    const text = readFileSync(table, "utf8");
    const [head = "", ...rows] = text.trim().split("\n");
    const name = head.split(",").at(-1)?.trim().toLowerCase() ?? "";
    const last = rows.map((row, at) => (at === 0 ? row.replace(/#[0-9a-f]{6}\s*$/i, "#123456") : row));
    writeFileSync(table, `${[head, ...last].join("\n")}\n`);
    const recoloured = await make(job, out);
    expect(recoloured.made.length).toBeGreaterThan(0);
    expect(recoloured.made.every((path) => path.includes(`--${name}.`) || path.includes("spec-sheet"))).toBe(
      true,
    );
    expect(recoloured.kept.length).toBeGreaterThan(0);

    // A drawing: all of them.
    const drawing = JSON.parse(readFileSync(job, "utf8")).print.motifs[0].file;
    const path = join(folder, "changed", drawing);
    writeFileSync(path, `${readFileSync(path, "utf8")}\n<!-- looked at again -->\n`);
    expect((await make(job, out)).made.length).toBe(made.length);
  });

  it("draws a spec sheet again when it has more to say, since other files are asked for", async () => {
    const job = newJob("said", { formats: ["svg"], separations: undefined });
    writeFileSync(join(folder, "said", "leaf.svg"), LEAF.replace('r="2.2"', 'r="2.2" opacity="0.5"'));
    const [out, fresh] = [join(folder, "said-again"), join(folder, "said-fresh")];
    await make(job, out);
    const more = readFileSync(job, "utf8").replace('["svg"]', '["svg","png"]');
    writeFileSync(job, more);
    const { manifest } = await make(job, out);
    expect(manifest.notes.map(({ code }) => code)).toContain("N_TRANSLUCENT");
    await make(job, fresh);
    expect(filesIn(out)).toEqual(filesIn(fresh));
  });

  it("is not disturbed by another run into the same folder", async () => {
    const job = newJob("two");
    const out = join(folder, "two-out");
    const whole = join(folder, "two-whole");
    const alone = await make(job, whole);
    const [one, other] = await Promise.all([make(job, out), make(job, out)]);
    expect([one.manifest, other.manifest]).toEqual([alone.manifest, alone.manifest]);
    expect(filesIn(out)).toEqual(filesIn(whole));
  });
});
