// What is published, in few files with nothing that is not used: to find and open the hundreds of modules of this package
// and of those that it builds on took a program longer than to draw.
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const root = fileURLToPath(new URL(".", import.meta.url));

/** What is loaded as it was installed: programs of the machine, and what is there only where somebody wants it. */
const OUTSIDE = ["@resvg/*", "sharp", "bullmq", "ioredis", "fast-check", "vitest"];

/** The same reader of job files as a module: the other form loads parts of Node in a way that modules do not have. */
const AS_MODULE = { yaml: join(root, "node_modules/yaml/browser/index.js") };

const SHARED = {
  bundle: true,
  alias: AS_MODULE,
  platform: "node",
  format: "esm",
  target: "node20",
  external: OUTSIDE,
  logLevel: "error",
};

/** The entries of the package and the command. */
const ENTRIES = [
  "index",
  "raster/index",
  "emit/index",
  "board/index",
  "batch/index",
  "testing/index",
  "cli/index",
  "cli/main",
];

/** The program of the worker processes: apart from the entries, so that it holds nothing that only they use. */
const WORKER = "emit/band-worker";

/** Bundles one program, `.ts` or `.js`, from one path to another. */
export async function bundleProgram(from, to) {
  await build({ ...SHARED, entryPoints: [from], outfile: to });
}

/** The licences of the packages that some files came from, one below the other. */
function readLicences(files) {
  const folders = files.map((file) => /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(file)?.[0]);
  const packages = [...new Set(folders.filter((folder) => folder !== undefined))].sort();
  return packages.map((folder) => {
    const { name, version, license, author } = JSON.parse(
      readFileSync(join(root, folder, "package.json"), "utf8"),
    );
    const file = readdirSync(join(root, folder)).find((entry) => /^licen[cs]e/i.test(entry));
    const text =
      file === undefined
        ? `${license}, ${author?.name ?? author}`
        : readFileSync(join(root, folder, file), "utf8");
    return `${name} ${version}\n\n${text.trim()}\n`;
  });
}

/** Bundles all that is published. What several entries use stands in files of its own, one folder deep as rooms are. */
async function bundlePackage() {
  const from = (entry) => join(root, "src", `${entry}.ts`);
  const published = {
    ...SHARED,
    outbase: join(root, "src"),
    outdir: join(root, "dist"),
    absWorkingDir: root,
    sourcemap: true,
    metafile: true,
  };
  const built = [
    await build({
      ...published,
      entryPoints: ENTRIES.map(from),
      splitting: true,
      chunkNames: "shared/[hash]",
    }),
    await build({ ...published, entryPoints: [from(WORKER)] }),
  ];
  const files = built.flatMap(({ metafile }) => Object.keys(metafile.inputs));
  writeFileSync(join(root, "dist", "LICENCES.txt"), readLicences(files).join("\n----\n\n"));
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await bundlePackage();
