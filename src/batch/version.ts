import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";

interface PackageFile {
  readonly version?: string;
}

/** The version of this package. */
export async function readVersion(): Promise<string> {
  const text = await readFile(new URL("../../package.json", import.meta.url), "utf8");
  return (JSON.parse(text) as PackageFile).version ?? "unknown";
}

/** Everything whose version shows in the bytes of files: this package, the renderer, the compressor. */
export async function readVersions(): Promise<readonly string[]> {
  const renderer = createRequire(import.meta.url).resolve("@resvg/resvg-js/package.json");
  const { version = "unknown" } = JSON.parse(await readFile(renderer, "utf8")) as PackageFile;
  return [await readVersion(), version, process.versions.zlib ?? "unknown"];
}
