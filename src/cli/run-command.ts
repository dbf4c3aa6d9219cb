import { readVersion, suggest } from "../batch/index.js";
import { RepetendError } from "../errors.js";
import { readArguments } from "./arguments.js";
import { check } from "./check.js";
import { type Command, type CommandIo, EXIT } from "./command.js";
import { describeAll, describeCommand } from "./help.js";
import { inks } from "./inks.js";
import { make } from "./make.js";
import { newExample } from "./new.js";
import { preview } from "./preview.js";
import { serve } from "./serve.js";

const COMMANDS: readonly Command[] = [make, serve, check, inks, preview, newExample];

function findCommand(name: string): Command {
  const found = COMMANDS.find((command) => command.name === name);
  if (found !== undefined) return found;
  const names = COMMANDS.map((command) => command.name);
  const isOption = name.startsWith("-");
  throw new RepetendError(
    "E_USAGE",
    `there is no ${isOption ? "option" : "command"} ${name}${suggest(name, isOption ? ["--help", "--version"] : names)}`,
    { accepted: [...names, "--help", "--version"].join(", ") },
  );
}

async function run(argv: readonly string[], io: CommandIo): Promise<number> {
  const [name, ...words] = argv;
  if (name === undefined) {
    io.stderr.write(describeAll(COMMANDS));
    return EXIT.refused;
  }
  if (name === "--help" || name === "-h" || (name === "help" && words.length === 0)) {
    io.stdout.write(describeAll(COMMANDS));
    return EXIT.done;
  }
  if (name === "--version") {
    io.stdout.write(`${await readVersion()}\n`);
    return EXIT.done;
  }
  const command = findCommand(name === "help" ? (words[0] ?? "") : name);
  const end = words.indexOf("--");
  const options = end < 0 ? words : words.slice(0, end);
  if (name === "help" || options.includes("--help") || options.includes("-h")) {
    io.stdout.write(describeCommand(command));
    return EXIT.done;
  }
  return command.run(readArguments(command, words), io);
}

/** One line, whatever signs a file's name or value brings along. */
const oneLine = (text: string): string => text.replace(/\p{Cc}+/gu, " ").trim();

/**
 * Runs one command line in this process. Errors are told in one line on `stderr`: code, where, value, what is accepted.
 *
 * @param argv the words behind `repetend`.
 * @returns the exit code: 0 done, 1 a seam is open, 2 bad input, 3 a fault of repetend, 130 interrupted.
 */
export async function runCommand(argv: readonly string[], io: CommandIo): Promise<number> {
  try {
    return await run(argv, io);
  } catch (error) {
    if (io.signal?.aborted === true) {
      io.stderr.write("repetend: interrupted; unfinished files were removed\n");
      return EXIT.interrupted;
    }
    if (error instanceof RepetendError) {
      io.stderr.write(`repetend: ${oneLine(error.message)}\n`);
      return EXIT.refused;
    }
    io.stderr.write(`repetend: a fault of repetend itself: ${oneLine(String(error))}\n`);
    return EXIT.broken;
  }
}
