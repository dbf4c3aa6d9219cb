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

const code = await runCommand(process.argv.slice(2), {
  stdout: process.stdout,
  stderr: process.stderr,
  signal: stop.signal,
});
// The client of a queue gives the memory of what it read back bit by bit, on a clock of its own that nobody else can stop:
// up to three seconds in which nothing is left to do.
const written = (stream: NodeJS.WriteStream): Promise<void> =>
  new Promise((done) => stream.write("", () => done()));
await Promise.all([written(process.stdout), written(process.stderr)]);
process.exit(code);
