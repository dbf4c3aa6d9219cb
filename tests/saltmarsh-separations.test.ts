import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";
import { buildPrint, readJob } from "../src/batch/index.js";
import { emitSeparations } from "../src/emit/index.js";
import { overprint } from "../src/image/index.js";
import { rasterisePrint, readImage } from "../src/raster/index.js";

const job = fileURLToPath(new URL("../examples/saltmarsh/border.job.json", import.meta.url));

it("the films of the Saltmarsh border, trapped and printed in order, are its tile", async () => {
  const dir = mkdtempSync(join(tmpdir(), "repetend-saltmarsh-"));
  try {
    const print = await buildPrint(await readJob(job));
    const options = { dpi: 30, edges: "hard" as const };
    const { files, coverage } = await emitSeparations(print, { ...options, dir, trap: "1.5mm" });
    const films = await Promise.all(
      files.map(async ({ path, ink = "" }) => ({ ink, levels: (await readImage(join(dir, path))).data })),
    );
    const tile = await rasterisePrint(print, options);
    const printed = overprint(tile, films);
    const apart = printed.data.filter((level, at) => level !== tile.data[Math.floor(at / 3) * 4 + (at % 3)]);
    expect(apart.length).toBe(0);
    // The trap adds ink: the films together cover more than the cloth.
    const inked = films.reduce((sum, { levels }) => sum + levels.reduce((all, level) => all + level, 0), 0);
    expect(inked / (255 * tile.width * tile.height)).toBeGreaterThan(1.05);
    expect(coverage.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
  } finally {
    rmSync(dir, { recursive: true });
  }
});
