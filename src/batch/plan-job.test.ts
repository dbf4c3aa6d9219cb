import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { planJob } from "./plan-job.js";

const example = (name: string) =>
  fileURLToPath(new URL(`../../examples/saltmarsh/${name}.job.json`, import.meta.url));

describe("planJob", () => {
  it("tells once what the table of a collection names for other prints, and refuses nothing for it", async () => {
    const { notes } = await planJob(example("brick"), { strict: true });
    const onTable = notes.filter(({ code }) => code.startsWith("N_INK"));
    expect(onTable).toEqual([
      expect.objectContaining({ level: "info", code: "N_INK_UNUSED", where: "#1f3140" }),
    ]);
  });
});
