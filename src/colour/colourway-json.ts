import { RepetendError } from "../errors.js";
import { collectColourway, readName } from "./colourway.js";
import { type JsonEntry, type JsonNode, readJsonText } from "./json-text.js";
import type { Colourway } from "./types.js";

const ACCEPTED = '{ "<name>": { "<ink>": "<ink>" } } or [{ "name": "<name>", "inks": { "<ink>": "<ink>" } }]';

function refuse(problem: string, where: string, value?: string): RepetendError {
  return new RepetendError("E_COLOURWAY", problem, {
    where,
    ...(value === undefined ? {} : { value }),
    accepted: ACCEPTED,
  });
}

/** Reads colourways from JSON, as an object by name or a list. */
export function readJson(text: string): readonly Colourway[] {
  const root = readJsonText(text);
  const read = root.kind === "list" ? root.items.map(readListed) : entriesOf(root).map(readNamed);
  const names = new Set<string>();
  for (const { colourway, where } of read) {
    if (names.has(colourway.name)) throw refuse("two colourways have one name", where, colourway.name);
    names.add(colourway.name);
  }
  if (read.length === 0) throw refuse("a colourway table has no colourways", root.where);
  return read.map(({ colourway }) => colourway);
}

interface Read {
  readonly colourway: Colourway;
  readonly where: string;
}

function readNamed({ key, where, value }: JsonEntry): Read {
  return { colourway: readInks(readName(key, where), value), where };
}

function readListed(node: JsonNode): Read {
  const entries = entriesOf(node);
  const one = (key: string): JsonNode => {
    const [found, ...more] = entries.filter((entry) => entry.key === key);
    if (found === undefined) throw refuse(`a colourway has no "${key}"`, node.where);
    for (const entry of more) throw refuse(`a colourway has two of "${key}"`, entry.where);
    return found.value;
  };
  for (const { key, where } of entries) {
    // A list as this library holds it says what each one is.
    if (!["kind", "name", "inks", "given"].includes(key))
      throw refuse("a colourway has an entry that is not known", where, key);
  }
  const name = one("name");
  if (name.kind !== "text") throw refuse("a colourway's name is no text", name.where);
  const inks = readInks(readName(name.text, name.where), one("inks"));
  const given = entries.some(({ key }) => key === "given") ? readGiven(one("given"), inks) : undefined;
  return { colourway: given === undefined ? inks : { ...inks, given }, where: name.where };
}

/** Colours as they were given, where they still say what the table says. */
function readGiven(node: JsonNode, { name, inks, given }: Colourway): Colourway["given"] {
  const told = readInks(name, node);
  const kept = Object.entries(told.given ?? {}).filter(([ink]) => told.inks[ink] === inks[ink]);
  return kept.length === 0 ? given : { ...given, ...Object.fromEntries(kept) };
}

function readInks(name: string, node: JsonNode): Colourway {
  const entries = entriesOf(node).map(({ key, where, value }) => {
    if (value.kind !== "text") throw refuse("an ink is to become something that is no text", value.where);
    return { ink: key, to: value.text, inkAt: where, toAt: value.where };
  });
  return collectColourway(name, entries);
}

function entriesOf(node: JsonNode): readonly JsonEntry[] {
  if (node.kind === "object") return node.entries;
  throw refuse(`an object is needed, not a ${node.kind}`, node.where);
}

/** Writes colourways as a list, which keeps their order whatever they are called. */
export function writeJson(colourways: readonly Colourway[]): string {
  return `${JSON.stringify(
    colourways.map(({ name, inks, given }) => ({ name, inks: { ...inks, ...given } })),
    null,
    2,
  )}\n`;
}
