import { RepetendError } from "../errors.js";

/** A value of a JSON text made of objects, lists and strings only, with its place as `line:column`. */
export type JsonNode =
  | { readonly kind: "text"; readonly where: string; readonly text: string }
  | { readonly kind: "list"; readonly where: string; readonly items: readonly JsonNode[] }
  | { readonly kind: "object"; readonly where: string; readonly entries: readonly JsonEntry[] };

/** A key of an object and its value; keys may stand twice, which is for the reader to judge. */
export interface JsonEntry {
  readonly key: string;
  readonly where: string;
  readonly value: JsonNode;
}

interface Token {
  readonly text: string;
  readonly where: string;
}

/** Colourways are three levels deep; a text that nests much deeper is no table, and must not exhaust the stack. */
const DEEPEST = 8;

const TOKEN = /[ \t\r\n]*(?:([{}[\]:,])|("(?:[^"\\\p{Cc}]|\\.)*"))/uy;

/**
 * Reads a JSON text (RFC 8259) that holds nothing but objects, lists and strings. The built-in reader tells neither where
 * a value stands nor that a key stands twice, and both matter in a table that people write.
 *
 * @throws {@link RepetendError} `E_COLOURWAY` with line and column.
 */
export function readJsonText(text: string): JsonNode {
  const tokens = splitTokens(text);
  const end: Token = { text: "", where: placeOf(text, text.length) };
  let at = 0;
  const peek = (): Token => tokens[at] ?? end;
  const take = (): Token => {
    const token = peek();
    at += 1;
    return token;
  };
  const expect = (wanted: string): Token => {
    const token = take();
    if (token.text === wanted || (wanted === "string" && token.text.startsWith('"'))) return token;
    throw refuse(token, wanted === "string" ? "a text in quotation marks" : wanted);
  };
  const readText = (): { text: string; where: string } => {
    const token = expect("string");
    return { text: decode(token), where: token.where };
  };
  const readSequence = <T>(close: string, readOne: () => T): readonly T[] => {
    const items: T[] = [];
    if (peek().text === close) {
      take();
      return items;
    }
    while (true) {
      items.push(readOne());
      const token = take();
      if (token.text === close) return items;
      if (token.text !== ",") throw refuse(token, `, or ${close}`);
    }
  };
  const readNode = (depth: number): JsonNode => {
    const { text: first, where } = peek();
    if (depth > DEEPEST) throw refuse(peek(), `at most ${DEEPEST} levels`);
    if (first.startsWith('"')) return { kind: "text", ...readText() };
    if (first !== "{" && first !== "[")
      throw refuse(peek(), "an object, a list or a text in quotation marks");
    take();
    if (first === "[") return { kind: "list", where, items: readSequence("]", () => readNode(depth + 1)) };
    const entries = readSequence("}", () => {
      const { text: key, where: keyAt } = readText();
      expect(":");
      return { key, where: keyAt, value: readNode(depth + 1) };
    });
    return { kind: "object", where, entries };
  };
  const root = readNode(1);
  if (at < tokens.length) throw refuse(peek(), "the end of the text");
  return root;
}

function splitTokens(text: string): readonly Token[] {
  const tokens: Token[] = [];
  const body = text.trimEnd();
  TOKEN.lastIndex = 0;
  let at = 0;
  let [line, lineStart, counted] = [1, 0, 0];
  while (at < body.length) {
    TOKEN.lastIndex = at;
    const match = TOKEN.exec(body);
    const found = match?.[1] ?? match?.[2];
    if (match === null || found === undefined) {
      const rest = body.slice(at).trimStart();
      throw refuse({ text: rest, where: placeOf(body, body.length - rest.length) });
    }
    const start = at + match[0].length - found.length;
    for (; counted < start; counted += 1) {
      if (body[counted] !== "\n") continue;
      line += 1;
      lineStart = counted + 1;
    }
    tokens.push({ text: found, where: `${line}:${start - lineStart + 1}` });
    at += match[0].length;
  }
  return tokens;
}

function placeOf(text: string, at: number): string {
  const lines = text.slice(0, at).split("\n");
  return `${lines.length}:${(lines.at(-1)?.length ?? 0) + 1}`;
}

function decode(token: Token): string {
  try {
    return String(JSON.parse(token.text));
  } catch (cause) {
    throw new RepetendError("E_COLOURWAY", "a text has an escape that JSON does not know", {
      where: token.where,
      value: token.text,
      cause,
    });
  }
}

function refuse(token: Token, wanted = "objects, lists and texts in quotation marks"): RepetendError {
  return new RepetendError(
    "E_COLOURWAY",
    token.text === "" ? "a JSON text ends too early" : "a JSON text cannot be read",
    {
      where: token.where,
      value: token.text.slice(0, 40),
      accepted: wanted,
    },
  );
}
