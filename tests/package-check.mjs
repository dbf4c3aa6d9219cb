// What a user of the npm package meets: it packs, installs into an empty project, and every entry imports and runs.
import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("..", import.meta.url));
const run = (command, args, cwd) =>
  execFileSync(command, args, { cwd, encoding: "utf8", stdio: ["ignore", "pipe", "inherit"] });

const folder = mkdtempSync(join(tmpdir(), "repetend-package-"));
try {
  const [packed] = JSON.parse(
    run("npm", ["pack", "--json", "--ignore-scripts", "--pack-destination", folder], root),
  );
  const archive = join(folder, packed.filename);
  writeFileSync(join(folder, "package.json"), '{ "name": "empty", "private": true, "type": "module" }\n');
  run("npm", ["install", "--no-audit", "--no-fund", "--omit=optional", archive], folder);

  const { exports } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
  // The entry for property tests needs its optional peers, which an empty project does not have.
  const entries = Object.keys(exports).filter((entry) => !entry.endsWith(".json") && entry !== "./testing");
  const names = entries.map((entry) => `repetend${entry.slice(1)}`);
  const program =
    `const entries = await Promise.all(${JSON.stringify(names)}.map((name) => import(name)));\n` +
    `if (entries.some((entry) => Object.keys(entry).length === 0)) throw new Error("an entry is empty");\n` +
    `if (entries[0].mm("10in") !== 254) throw new Error("10 in are not 254 mm");\n` +
    `console.log("imports: " + ${JSON.stringify(names.join(", "))});`;
  process.stdout.write(run("node", ["--input-type=module", "--eval", program], folder));
  process.stdout.write(
    `repetend --version: ${run("npx", ["--no-install", "repetend", "--version"], folder)}`,
  );
  // The packages of the queue are there only for those who want it; without them one line says what to do.
  const { status, stderr } = spawnSync("npx", ["--no-install", "repetend", "serve", "redis://localhost"], {
    cwd: folder,
    encoding: "utf8",
  });
  if (status !== 2 || !/^repetend: E_QUEUE: .*npm install bullmq ioredis\n$/.test(stderr)) {
    throw new Error(`repetend serve without a queue: ${status} ${stderr}`);
  }
  // And so it is with the package of the WebAssembly renderer.
  const wasm =
    `const { wasmRasteriser } = await import("repetend/raster");\n` +
    `console.log(await wasmRasteriser(Uint8Array.of(0)).catch((error) => error.message));`;
  const refusal = run("node", ["--input-type=module", "--eval", wasm], folder);
  if (!/^E_RENDER: .*npm install @resvg\/resvg-wasm\n$/.test(refusal)) {
    throw new Error(`wasmRasteriser without its package: ${refusal}`);
  }
  console.log(
    `${packed.filename}: ${packed.files.length} files, ${Math.round(packed.size / 1024)} kB packed`,
  );
} finally {
  rmSync(folder, { recursive: true, force: true });
}
