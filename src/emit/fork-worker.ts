import { type ChildProcess, fork } from "node:child_process";
import { env } from "node:process";
import { fileURLToPath } from "node:url";

/**
 * Beside its own thread a process has one, for rendering: of two each would keep memory for its pictures. The rest is
 * for memory, too: to take every picture's afresh, page by page, took longer than to draw on it. The native renderer's
 * allocator (mimalloc) keeps what was freed. It is not told to take large pages: a machine that shares its memory with
 * others may have to fetch those first, and 62 megapixels then took up to an eighth longer.
 */
const WORKER_ENVIRONMENT = {
  UV_THREADPOOL_SIZE: "1",
  MIMALLOC_PURGE_DELAY: "-1",
};

/**
 * Megabytes for what lives shortly: by itself the engine would take four times as much in the end. It is collected often,
 * and on one thread, since further ones would take the processors from the renderer.
 */
const WORKER_FLAGS = ["--max-semi-space-size=4", "--no-parallel-scavenge"];

/**
 * Starts a process that draws and compresses bands, and takes its tasks as messages.
 *
 * @param limit of its memory, in bytes.
 * @param program what it runs; default: the package's own.
 */
export function forkWorker(engine: "native" | "wasm", limit: number, program?: URL): ChildProcess {
  const own = new URL(
    `../emit/band-worker.${import.meta.url.endsWith(".ts") ? "ts" : "js"}`,
    import.meta.url,
  );
  const path = fileURLToPath(program ?? own);
  return fork(path, [engine, String(Math.floor(limit))], {
    serialization: "advanced",
    stdio: ["ignore", "ignore", "ignore", "ipc"],
    env: { ...env, ...WORKER_ENVIRONMENT }, // handed on only: nothing here depends on it
    // The sources of this package are run by a loader; what is installed needs none.
    ...(/\.m?ts$/.test(path) ? { execArgv: ["--import", "tsx"] } : { execArgv: WORKER_FLAGS }),
  });
}
