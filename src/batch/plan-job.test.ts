import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { planJob } from "./plan-job.js";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "repetend-plan-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

const print = { name: "Sand", layout: "straight", width: 100, height: 100, ground: "#efe6d5", motifs: [] };

describe("planJob", () => {
  it("tells once what the table of a collection names for other prints, and refuses nothing for it", async () => {
    writeFileSync(join(folder, "sand.json"), JSON.stringify({ print, colourways: "table.csv" }));
    writeFileSync(
      join(folder, "table.csv"),
      "ink,Low Tide,Nightjar\n#efe6d5,#efe6d5,#1c2033\n#1f3140,#1f3140,#e9dfc4\n#5a8b80,#5a8b80,#98794f\n",
    );
    const { notes } = await planJob(join(folder, "sand.json"), { strict: true });
    expect(notes.filter(({ code }) => code.startsWith("N_INK"))).toEqual([
      {
        level: "info",
        code: "N_INK_UNUSED",
        where: "#1f3140",
        message: "the table of colourways also names #1f3140, #5a8b80, which this print does not use",
      },
    ]);
  });

  it("refuses names by which one file would be written over another", async () => {
    const path = join(folder, "twins.json");
    const plan = async (name: string, emit: object) => {
      writeFileSync(join(folder, "twins.csv"), `ink,${name}\n#efe6d5,#1c2033\n`);
      writeFileSync(path, JSON.stringify({ print, colourways: "twins.csv", emit }));
      return planJob(path);
    };
    for (const [name, emit] of [
      ["Spec sheet", { sheet: true }],
      ["colourway-board", { board: true }],
      ["01 efe6d5", { separations: {} }],
    ] as const) {
      await expect(plan(name, emit)).rejects.toThrow(
        expect.objectContaining({
          code: "E_JOB",
          input: path,
          accepted: expect.stringContaining("another name"),
        }),
      );
      expect((await plan(name, {})).files).toHaveLength(2);
    }
  });
});
