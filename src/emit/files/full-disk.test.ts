import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { serialize } from "node:v8";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { bundleProgram } from "../../../bundle.mjs";
import { halfDrop } from "../../repeat/index.js";
import { CELL } from "../saltmarsh.fixture.js";

let dir = "";
let bundles = "";
beforeAll(async () => {
  dir = mkdtempSync(join(tmpdir(), "repetend-full-"));
  bundles = mkdtempSync(fileURLToPath(new URL("../../../node_modules/.repetend-full-", import.meta.url)));
  // In one file: a loader of sources would write files of its own, for which there is no room either.
  await bundleProgram(fileURLToPath(new URL("../index.ts", import.meta.url)), join(bundles, "emit.mjs"));
  writeFileSync(join(dir, "print"), serialize(halfDrop(CELL)));
  writeFileSync(
    join(dir, "emit.mjs"),
    `import { readFileSync } from "node:fs";
     import { deserialize } from "node:v8";
     import { emitTile } from "${pathToFileURL(join(bundles, "emit.mjs"))}";
     const print = deserialize(readFileSync("${join(dir, "print")}"));
     const options = JSON.parse(process.argv[2]);
     const told = (error) => ({ code: error.code, message: error.message });
     console.log(JSON.stringify(await emitTile(print, options).then(({ files }) => files, told)));`,
  );
});
afterAll(() => {
  rmSync(dir, { recursive: true });
  rmSync(bundles, { recursive: true });
});

/**
 * Emits in a process whose files the system keeps below so many blocks, a limit on file size being what a test can set
 * of a disk that fills up: the system writes what fits, and then refuses (setrlimit(2), RLIMIT_FSIZE: EFBIG).
 */
function emitInto(folder: string, blocks: string, options: object): unknown {
  const program = `trap '' XFSZ; ulimit -f ${blocks}; exec "$0" "$@"`;
  const argument = JSON.stringify({ dpi: 200, dir: folder, ...options });
  const { stdout, stderr } = spawnSync(
    "sh",
    ["-c", program, process.execPath, join(dir, "emit.mjs"), argument],
    { encoding: "utf8" },
  );
  return JSON.parse(stdout || JSON.stringify(stderr));
}

describe.skipIf(process.platform === "win32")("a disk that fills up", () => {
  const cases = [
    ["png", { formats: ["png"] }],
    ["tif", { formats: ["tiff"], compression: "none" }],
    ["tif", { formats: ["tiff"], compression: "lzw", edges: "hard" }],
  ] as const;

  it.each(cases)(
    "is told with the path, and leaves the old %s whole and no temporary (%j)",
    (end, options) => {
      const folder = mkdtempSync(join(dir, "old-"));
      const path = join(folder, `reeds--as-drawn.${end}`);
      writeFileSync(path, "the old file");
      const refused = emitInto(folder, "8", options);
      expect(refused).toMatchObject({ code: "E_WRITE" });
      expect(JSON.stringify(refused)).toContain(path);
      expect(readdirSync(folder)).toEqual([`reeds--as-drawn.${end}`]);
      expect(readFileSync(path, "utf8")).toBe("the old file");
      expect(emitInto(folder, "unlimited", options)).toHaveLength(1);
      expect(readFileSync(path).length).toBeGreaterThan(8 * 1024);
    },
  );

  it("leaves none of several colourways, when one of them finds no room", () => {
    const folder = join(dir, "colourways");
    mkdirSync(folder);
    const colourways = ["Low Tide", "Nightjar"].map((name) => ({ kind: "colourway", name, inks: {} }));
    expect(emitInto(folder, "8", { formats: ["png"], colourways })).toMatchObject({ code: "E_WRITE" });
    expect(readdirSync(folder)).toEqual([]);
  });
});
