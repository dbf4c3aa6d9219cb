// The program of the worker processes in one file, with nothing that it does not use: of all that this package loads,
// drawing bands takes a small part, and every process starts in a tenth of the time. Other packages stay outside.
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

/** Packages are loaded where something of them is used, and not for having been named. */
const packages = {
  name: "packages",
  setup: ({ onResolve }) => {
    onResolve({ filter: /^[^./]/ }, ({ path, kind }) =>
      kind === "entry-point" ? undefined : { path, external: true, sideEffects: false },
    );
  },
};

/** Bundles a worker's program, `.ts` or `.js`, from one path to another. */
export async function bundleWorker(from, to) {
  await build({
    entryPoints: [from],
    outfile: to,
    allowOverwrite: true,
    bundle: true,
    platform: "node",
    format: "esm",
    target: "node20",
    logLevel: "error",
    plugins: [packages],
  });
}

const [, program, from, to] = process.argv;
if (program === fileURLToPath(import.meta.url) && from !== undefined) await bundleWorker(from, to ?? from);
