import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

const at = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/** The package's own entries resolve to the sources, so that examples in the docs run as a user writes them. */
const entries = ["raster", "emit", "board", "batch", "testing"];

export default defineConfig({
  resolve: {
    alias: [
      ...entries.map((entry) => ({
        find: new RegExp(`^repetend/${entry}$`),
        replacement: at(`src/${entry}/index.ts`),
      })),
      { find: /^repetend$/, replacement: at("src/index.ts") },
    ],
  },
  test: {
    include: process.env.REPETEND_LONG ? ["{src,tests}/**/*.long.test.ts"] : ["{src,tests}/**/*.test.ts"],
    exclude: process.env.REPETEND_LONG ? [] : ["**/*.long.test.ts", "node_modules/**"],
    testTimeout: process.env.REPETEND_LONG ? 3_600_000 : 30_000,
    maxWorkers: 2,
    // No module here keeps state, so test files may share what they import: a third of the time went into importing it again.
    isolate: false,
  },
});
