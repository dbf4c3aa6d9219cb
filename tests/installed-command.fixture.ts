import { cpSync, mkdirSync, symlinkSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { bundleProgram } from "../bundle.mjs";

const root = fileURLToPath(new URL("..", import.meta.url));

/** Puts the command and its worker into a folder as they are published; the result is the path of the command. */
export async function installCommand(folder: string): Promise<string> {
  mkdirSync(folder, { recursive: true });
  const programs = ["cli/main", "emit/band-worker"];
  for (const name of programs)
    await bundleProgram(join(root, "src", `${name}.ts`), join(folder, "dist", `${name}.js`));
  cpSync(join(root, "package.json"), join(folder, "package.json"));
  cpSync(join(root, "examples"), join(folder, "examples"), { recursive: true });
  symlinkSync(join(root, "node_modules"), join(folder, "node_modules"));
  return join(folder, "dist", "cli", "main.js");
}
