#!/usr/bin/env node
import { EXIT } from "./command.js";
import { runCommand } from "./run-command.js";

const stop = new AbortController();
// The second signal ends the process at once: a render that hangs must not hold the terminal.
for (const signal of ["SIGINT", "SIGTERM"] as const) {
  process.once(signal, () => {
    stop.abort(new Error(signal));
    process.once(signal, () => process.exit(EXIT.interrupted));
  });
}
// A reader that closed its end of the pipe wants no more; that is no fault.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code === "EPIPE") process.exit(EXIT.done);
});

process.exitCode = await runCommand(process.argv.slice(2), {
  stdout: process.stdout,
  stderr: process.stderr,
  signal: stop.signal,
});
