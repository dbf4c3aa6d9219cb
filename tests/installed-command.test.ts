import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { installCommand } from "./installed-command.fixture.js";

let folder = "";
let main = "";
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "repetend-installed-"));
  main = await installCommand(join(folder, "package"));
}, 60_000);
afterAll(() => rmSync(folder, { recursive: true }));

const run = (...argv: readonly string[]) => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [main, ...argv], { encoding: "utf8" });
  return { status, stdout, stderr };
};

describe("the command as it is published", () => {
  it("starts, reads a job, and draws it in processes of its own", () => {
    expect(run("--version")).toEqual({ status: 0, stdout: "0.1.0\n", stderr: "" });
    const example = join(folder, "saltmarsh");
    expect(run("new", example).status).toBe(0);
    const job = join(example, "small.job.json");
    const motifs = [{ file: "motifs/eddy.svg", at: ["2cm", "2cm"], width: "3cm" }];
    const print = {
      name: "Eddies",
      layout: "straight",
      width: "4cm",
      height: "4cm",
      ground: "#efe6d5",
      motifs,
    };
    writeFileSync(job, JSON.stringify({ print, emit: { dpi: 50, formats: ["png"] } }));
    expect(run("inks", job).stdout).toMatch(/^#[0-9a-f]{6} {2}\d+\n/);
    expect(run("make", job, "--workers", "1").status).toBe(0);
    expect(readdirSync(join(example, "out"))).toContain("eddies--as-drawn.png");
  });

  it("refuses in one line", () => {
    const { status, stderr } = run("make", join(folder, "none.json"));
    expect([status, stderr]).toEqual([2, expect.stringMatching(/^repetend: E_READ [^\n]*\n$/)]);
  });
});
