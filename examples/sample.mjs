// Runs the main job on the Saltmarsh example: every print of the collection, in every colourway.
import { mkdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { runCommand } from "../dist/cli/index.js";

const at = (path) => fileURLToPath(new URL(path, import.meta.url));
const out = at("../out/saltmarsh");

for (const print of ["border", "half-drop", "brick", "tossed"]) {
  const folder = `${out}/${print}`;
  mkdirSync(folder, { recursive: true });
  const { stdout, stderr } = process;
  const code = await runCommand(["make", at(`saltmarsh/${print}.job.json`), "--out", folder], {
    stdout,
    stderr,
  });
  if (code !== 0) process.exit(code);
}
console.log(`The Saltmarsh collection is in ${out}: tiles of every colourway, and a manifest.json a print.`);
