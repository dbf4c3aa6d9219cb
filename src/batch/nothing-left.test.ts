import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type MakeJobOptions, makeJob } from "./make-job.js";
import { planJob } from "./plan-job.js";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "repetend-nothing-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

const engine = () => Promise.reject(new Error("nothing is drawn"));
const print = { name: "Sand", layout: "straight", width: 90, height: 90, ground: "#efe6d5", motifs: [] };
const huge = { ...print, width: "900m", height: "900m" };

describe("a job that is refused before anything is drawn leaves nothing, not even its folder", () => {
  it.each<[string, string, object, MakeJobOptions]>([
    ["memory for no process", "E_NUMBER", { print }, { memory: 1000 }],
    ["fewer processes than none", "E_NUMBER", { print }, { workers: -1 }],
    ["an address that is no queue's", "E_QUEUE", { print }, { queue: "http://studio" }],
    ["a profile that is not there", "E_READ", { print, emit: { profile: "press.icc" } }, { engine }],
    [
      "more than the disk holds",
      "E_WRITE",
      { print: huge, emit: { dpi: 1000, formats: ["tiff"], compression: "none" } },
      { engine },
    ],
  ])("%s", async (name, code, job, options) => {
    const path = join(folder, `${name}.json`);
    const out = join(folder, name, "out");
    writeFileSync(path, JSON.stringify(job));
    await expect(makeJob(path, { ...options, out })).rejects.toThrow(expect.objectContaining({ code }));
    expect(existsSync(join(folder, name))).toBe(false);
  });

  it.each([
    ["E_INK", { underBase: { inks: ["#123456"] } }],
    ["E_NUMBER", { trap: "9cm" }],
  ])("separations that cannot be made, which the plan refuses too: %s", async (code, separations) => {
    const path = join(folder, `${code}.json`);
    const out = join(folder, code);
    writeFileSync(path, JSON.stringify({ print, emit: { separations } }));
    const refusal = expect.objectContaining({ code, input: path });
    await expect(planJob(path, { out })).rejects.toThrow(refusal);
    await expect(makeJob(path, { out, engine })).rejects.toThrow(refusal);
    expect(existsSync(out)).toBe(false);
  });
});
