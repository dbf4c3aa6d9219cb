import { parseArgs } from "node:util";
import { suggest } from "../batch/index.js";
import { RepetendError } from "../errors.js";
import type { Window } from "../repeat/index.js";
import { type Length, readLength } from "../units/index.js";
import type { Command, CommandArguments } from "./command.js";

const refuse = (command: Command, problem: string, accepted: string): never => {
  throw new RepetendError("E_USAGE", problem, { input: `repetend ${command.name}`, accepted });
};

/**
 * Reads the words behind a command's name against its options.
 *
 * @throws {@link RepetendError} E_USAGE for an unknown option (with the one that was meant), a missing or needless
 * value, and too few or too many operands.
 */
export function readArguments(command: Command, words: readonly string[]): CommandArguments {
  const known = Object.keys(command.options).map((name) => `--${name}`);
  const accepted = [...known, "--help"].join(", ");
  const { tokens } = parseArgs({
    args: [...words],
    options: Object.fromEntries(Object.entries(command.options).map(([name, { type }]) => [name, { type }])),
    strict: false,
    allowPositionals: true,
    tokens: true,
  });
  const files: string[] = [];
  const flags = new Set<string>();
  const values: Record<string, string> = {};
  for (const token of tokens) {
    if (token.kind === "positional") files.push(token.value);
    if (token.kind !== "option") continue;
    const spec = Object.hasOwn(command.options, token.name) ? command.options[token.name] : undefined;
    if (spec === undefined || !token.rawName.startsWith("--")) {
      refuse(command, `there is no option ${token.rawName}${suggest(token.rawName, known)}`, accepted);
    } else if (spec.type === "boolean") {
      if (token.value !== undefined) refuse(command, `${token.rawName} takes no value`, token.rawName);
      flags.add(token.name);
    } else if (token.value === undefined || token.value === "" || token.value.startsWith("--")) {
      refuse(command, `${token.rawName} needs a value`, `${token.rawName} ${spec.value ?? "VALUE"}`);
    } else {
      values[token.name] = token.value;
    }
  }
  const { least, most } = command.count;
  if (files.length < least || files.length > most) {
    refuse(
      command,
      files.length < least
        ? `${command.operands} is missing`
        : `too many operands: ${files.slice(most).join(" ")}`,
      `repetend ${command.name} ${command.operands}`,
    );
  }
  return { files, flags, values };
}

/**
 * Reads a number above 0 from an option.
 *
 * @throws {@link RepetendError} E_USAGE when it is none.
 */
export function readPositive(given: CommandArguments, name: string): number | undefined {
  const text = given.values[name];
  if (text === undefined) return undefined;
  const value = /^\d*\.?\d+$/.test(text) ? Number(text) : Number.NaN;
  if (value > 0) return value;
  throw new RepetendError("E_USAGE", `--${name} is a number above 0`, {
    value: text,
    accepted: `--${name} 300`,
  });
}

/**
 * Reads a whole number from 0 on from an option.
 *
 * @throws {@link RepetendError} E_USAGE when it is none.
 */
export function readCount(given: CommandArguments, name: string): number | undefined {
  const text = given.values[name];
  if (text === undefined) return undefined;
  if (/^\d{1,4}$/.test(text)) return Number(text);
  throw new RepetendError("E_USAGE", `--${name} is a whole number`, { value: text, accepted: `--${name} 2` });
}

const BYTES: Readonly<Record<string, number>> = { MB: 1e6, GB: 1e9, MiB: 2 ** 20, GiB: 2 ** 30 };

/**
 * Reads a size of memory from an option: a number and MB, GB, MiB or GiB.
 *
 * @throws {@link RepetendError} E_USAGE when it is none.
 */
export function readBytesOption(given: CommandArguments, name: string): number | undefined {
  const text = given.values[name];
  if (text === undefined) return undefined;
  const [, number = "", unit = ""] = /^(\d*\.?\d+)\s*(MB|GB|MiB|GiB)$/.exec(text) ?? [];
  const bytes = Number(number) * (BYTES[unit] ?? Number.NaN);
  if (number !== "" && bytes > 0) return bytes;
  throw new RepetendError("E_USAGE", `--${name} is a size of memory`, {
    value: text,
    accepted: `--${name} 512MB, or a number with GB, MiB, GiB`,
  });
}

/** Millimetres where a word is a plain number, else a length with its unit. */
const asLength = (word: string): Length =>
  /^[+-]?(?:\d+(?:\.\d+)?|\.\d+)$/.test(word) ? Number(word) : word;

/**
 * Reads a length above 0 from an option, in mm.
 *
 * @throws {@link RepetendError} E_UNIT, E_SIZE when it is none.
 */
export function readLengthOption(given: CommandArguments, name: string): number | undefined {
  const text = given.values[name];
  if (text === undefined) return undefined;
  return readLength(asLength(text.trim()), { where: `--${name}`, above: 0 });
}

/**
 * Reads a window of the cloth from an option: four lengths, x, y, width and height.
 *
 * @throws {@link RepetendError} E_USAGE when there are not four, E_UNIT for a word that is no length.
 */
export function readWindowOption(given: CommandArguments, name: string): Window | undefined {
  const text = given.values[name];
  if (text === undefined) return undefined;
  const words = text.trim().split(/[\s,]+/);
  if (words.length !== 4) {
    throw new RepetendError("E_USAGE", `--${name} is four lengths: x, y, width and height`, {
      value: text,
      accepted: `--${name} "0 10cm 20cm 15cm"`,
    });
  }
  const [x = 0, y = 0, width = 0, height = 0] = words.map((word) =>
    readLength(asLength(word), { where: `--${name}` }),
  );
  return { x, y, width, height };
}
