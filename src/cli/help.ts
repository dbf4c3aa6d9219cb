import type { Command } from "./command.js";

function table(rows: readonly (readonly [string, string])[]): string {
  const width = Math.max(...rows.map(([left]) => left.length));
  return rows.map(([left, right]) => `  ${left.padEnd(width)}  ${right}\n`).join("");
}

/** The help of one command. */
export function describeCommand(command: Command): string {
  const options = Object.entries(command.options).map(
    ([name, { value, help }]) => [`--${name}${value === undefined ? "" : ` ${value}`}`, help] as const,
  );
  return (
    `${command.summary}.\n\n` +
    `Usage: repetend ${command.name} ${command.operands} [options]\n\n` +
    `${command.details}\n\n` +
    `Options:\n${table([...options, ["--help", "show this"]])}`
  );
}

/** The help of the whole command line. */
export function describeAll(commands: readonly Command[]): string {
  const rows = commands.map((command) => [`${command.name} ${command.operands}`, command.summary] as const);
  return (
    "repetend carries a print from motif drawings to files that a mill can print from.\n\n" +
    "Usage: repetend COMMAND [options]\n\n" +
    `Commands:\n${table(rows)}\n` +
    "Options:\n" +
    table([
      ["--help", "show this; behind a command, that command's help"],
      ["--version", "show the version"],
    ]) +
    "\nExit codes: 0 done, 1 a seam is open, 2 bad input, 3 a fault of repetend, 130 interrupted.\n"
  );
}
