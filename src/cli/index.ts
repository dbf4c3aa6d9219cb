export type { CommandIo, TextSink } from "./command.js";
export { runCommand } from "./run-command.js";
