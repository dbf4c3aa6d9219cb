import { mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { makeJob } from "../make-job.js";
import { planJob } from "../plan-job.js";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "repetend-sheets-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

const hex = (code: number): string => `#${code.toString(16).padStart(6, "0")}`;

/** Stripes that touch each other, in so many inks. */
const stripes = (count: number): string => {
  const bars = Array.from(
    { length: count },
    (_, k) => `<path d="M0 ${k}H${count}V${k + 1}H0Z" fill="${hex(0x204060 + k * 0x030202)}"/>`,
  );
  return `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="60mm" viewBox="0 0 ${count} ${count}">${bars.join("")}</svg>`;
};

/** Colourways in which every ink is a little lighter than the one before, or darker: they have much to be said of. */
const table = (count: number, colourways: number): string => {
  const names = Array.from({ length: colourways }, (_, w) => `Way ${w + 1}`);
  const rows = Array.from({ length: count }, (_, k) => {
    const inks = names.map((_, w) => hex(0x304050 + w * 0x010000 + (w % 2 ? count - k : k) * 0x030303));
    return [hex(0x204060 + k * 0x030202), ...inks].join(",");
  });
  return [["ink", ...names].join(","), ...rows].join("\n");
};

describe("the pages of a spec sheet", () => {
  it.each([
    ["one page", 3, 2],
    ["many colourways with much to be said of", 9, 14],
    ["more inks than a page holds", 48, 3],
  ])("are all named by the plan, as they are written: %s", async (name, inks, colourways) => {
    const dir = mkdtempSync(join(folder, "job-"));
    writeFileSync(join(dir, "stripes.svg"), stripes(inks));
    writeFileSync(join(dir, "table.csv"), table(inks, colourways));
    const motifs = [{ file: "stripes.svg", at: [40, 40], width: 60 }];
    const print = { name, layout: "straight", width: 80, height: 80, motifs };
    const emit = { dpi: 20, formats: ["svg"], sheet: true, board: true };
    const path = join(dir, "stripes.job.json");
    writeFileSync(path, JSON.stringify({ print, colourways: "table.csv", emit }));
    const out = join(dir, "out");
    const plan = await planJob(path, { out });
    const manifest = await makeJob(path, { out, workers: 0 });
    expect(manifest.files.map((file) => file.path)).toEqual(plan.files.map((file) => file.path));
    const written = readdirSync(out).filter((file) => file !== "manifest.json");
    expect(written.sort()).toEqual(plan.files.map((file) => file.path).sort());
    const pages = written.filter((file) => file.includes("--spec-sheet"));
    expect(pages.length > 1).toBe(inks > 3);
    // What was found by drawing would fill pages of its own.
    if (colourways > 10) expect(manifest.notes.length).toBeGreaterThan(plan.notes.length + 50);
  });
});
