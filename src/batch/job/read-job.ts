import { dirname, resolve } from "node:path";
import * as v from "valibot";
import { type Document, isMap, isNode, isPair, isScalar, LineCounter, parseDocument, visit } from "yaml";
import { aText } from "../../checks.js";
import { RepetendError } from "../../errors.js";
import { meantLength } from "../../units/meant-length.js";
import { readOptions } from "../checks.js";
import { suggest } from "./did-you-mean.js";
import type { Job } from "./job.js";
import { JOB_SCHEMA } from "./job-schema.js";
import { type ReadOptions, readText } from "./read-file.js";
import { LENGTH } from "./schema-words.js";

/** A job that was read and checked. */
export interface LoadedJob {
  /** The job file as it was named. */
  readonly path: string;
  /** The folder to which the job's paths are relative, absolute. */
  readonly folder: string;
  readonly job: Job;
}

/** Far above any job written by hand; keeps the reader from being fed a book. */
const BYTE_LIMIT = 4 * 2 ** 20;

type Path = readonly (string | number)[];

/** `print.bands[2].from`. */
function writePath(path: Path): string {
  return path.reduce<string>(
    (text, key) => (typeof key === "number" ? `${text}[${key}]` : text === "" ? key : `${text}.${key}`),
    "",
  );
}

/** Where a path stands in the file, as `line:column`: its key, its place in a list, or what should hold it. */
function findPlace(document: Document, lines: LineCounter, path: Path): string {
  for (let depth = path.length; depth >= 0; depth--) {
    const parent = depth === 0 ? undefined : document.getIn(path.slice(0, depth - 1), true);
    const pair = isMap(parent)
      ? parent.items.find((item) => isPair(item) && isScalar(item.key) && item.key.value === path[depth - 1])
      : undefined;
    const value = depth === 0 ? document.contents : document.getIn(path.slice(0, depth), true);
    const node = pair !== undefined && isNode(pair.key) && depth === path.length ? pair.key : value;
    if (isNode(node) && node.range) {
      const { line, col } = lines.linePos(node.range[0]);
      return `${line}:${col}`;
    }
  }
  return "1:1";
}

/** Where a key stands that its object has already, as an offset. The parser's own search takes the square of their number. */
function findSecondKey(document: Document): number | undefined {
  let second: number | undefined;
  visit(document, {
    Map: (_, { items }) => {
      const keys = new Set<unknown>();
      for (const { key } of items) {
        const value = isScalar(key) ? key.value : key;
        if (keys.has(value) && isNode(key)) {
          second = key.range?.[0] ?? 0;
          return visit.BREAK;
        }
        keys.add(value);
      }
      return undefined;
    },
  });
  return second;
}

const TOO_DEEP = "it is nested too deeply";

/** The file's text as data, with its places. */
function parseText(text: string, input: string): { document: Document; lines: LineCounter; data: unknown } {
  const lines = new LineCounter();
  try {
    const document = parseDocument(text, { lineCounter: lines, prettyErrors: false, uniqueKeys: false });
    const refuse = (reason: string, offset: number): never => {
      const { line, col } = lines.linePos(offset);
      throw new RepetendError("E_JOB", `not a readable job: ${reason}`, { input, where: `${line}:${col}` });
    };
    const [fault] = document.errors;
    if (fault !== undefined) {
      refuse(fault.code === "RESOURCE_EXHAUSTION" ? TOO_DEEP : fault.message, fault.pos[0]);
    }
    const second = findSecondKey(document);
    if (second !== undefined) refuse("a key stands twice in one object", second);
    return { document, lines, data: document.toJS({ maxAliasCount: 0 }) };
  } catch (error) {
    if (error instanceof RepetendError) throw error;
    const reason = error instanceof RangeError ? TOO_DEEP : error instanceof Error ? error.message : "";
    throw new RepetendError("E_JOB", `not a readable job: ${reason}`, { input, cause: error });
  }
}

/** A value as text; JSON has no word for numbers beyond all bounds. */
const show = (value: unknown): string =>
  typeof value === "string" || typeof value === "number"
    ? String(value)
    : (JSON.stringify(value) ?? String(value));

type Issue = v.BaseIssue<unknown>;

/** A key that is missing or not known says only that the object is of another of the accepted shapes. */
const isShape = ({ type }: Issue): boolean => type === "strict_object";

/** Where several shapes are accepted and an object is met: the fault inside of the shape that it has, where that is sure. */
function insideUnion(issue: Issue): Issue {
  const { input, path = [], issues = [] } = issue;
  if (issue.type !== "union" || typeof input !== "object" || input === null || Array.isArray(input))
    return issue;
  const inner = issues.filter((one) => one.path !== undefined);
  const [sure, other] = inner.length === 1 ? inner : inner.filter((one) => !isShape(one));
  if (sure?.path === undefined || other !== undefined) return issue;
  return insideUnion({ ...sure, path: [...path, ...sure.path] } as Issue);
}

/** "; did you mean …?" for a length in another writing, where a length is wanted. */
function suggestLength(input: unknown, accepted: string): string {
  const meant = accepted.startsWith(LENGTH) && typeof input === "string" ? meantLength(input) : undefined;
  return meant === undefined ? "" : `; did you mean "${meant}"?`;
}

/** The problem of one issue, and what would be accepted. */
function explain(
  issue: v.BaseIssue<unknown>,
  path: Path,
): { problem: string; value?: string; accepted?: string } {
  const key = String(path.at(-1) ?? "");
  if (issue.type === "strict_object" && issue.expected === "never") {
    const known = issue.message.split(", ");
    return { problem: `there is no key "${key}"${suggest(key, known)}`, accepted: issue.message };
  }
  const isObject = issue.type === "strict_object";
  if (issue.received === "undefined" && (!isObject || issue.expected !== "Object")) {
    const last = path.at(-1);
    const missing =
      typeof last === "number" ? `part ${last + 1} of a list is missing` : `"${key}" is missing`;
    return { problem: missing, ...(isObject ? {} : { accepted: issue.message }) };
  }
  if (isObject) {
    return {
      problem: "an object is wanted here",
      value: show(issue.input),
      accepted: `keys ${issue.message}`,
    };
  }
  const known = [...issue.message.matchAll(/"([^"]+)"/g)].map((match) => match[1] ?? "");
  const hint =
    suggestLength(issue.input, issue.message) ||
    (typeof issue.input === "string" ? suggest(issue.input, known) : "");
  return { problem: `this value is not accepted${hint}`, value: show(issue.input), accepted: issue.message };
}

/**
 * Checks a job's text: JSON, or YAML of the same shape.
 *
 * @param text the file's text.
 * @param input its name, for errors.
 * @throws `RepetendError` E_JOB with `line:column` and the path (`print.bands[2].from`), the value and what is
 * accepted.
 */
export function parseJob(text: string, input: string): Job {
  aText(text, "text");
  aText(input, "input");
  const { document, lines, data } = parseText(text, input);
  const result = v.safeParse(JOB_SCHEMA, data, { abortEarly: true, abortPipeEarly: true });
  if (result.success) return result.output;
  const issue = insideUnion(result.issues[0]);
  const path = (issue.path ?? []).map((step) => (typeof step.key === "number" ? step.key : String(step.key)));
  const { problem, ...facts } = explain(issue, path);
  const place = [findPlace(document, lines, path), writePath(path)].filter((part) => part !== "");
  throw new RepetendError("E_JOB", problem, { input, where: place.join(" "), ...facts });
}

/**
 * Reads and checks a job file: JSON, or YAML of the same shape.
 *
 * @throws `RepetendError` E_READ, E_ENCODING, E_LIMIT for the file; E_JOB with `line:column` and the path
 * (`print.bands[2].from`), the value and what is accepted. The signal's reason when it stops waiting for a pipe.
 *
 * @example
 * ```ts
 * import { readJob } from "repetend/batch";
 * const { job } = await readJob("examples/saltmarsh/border.job.json");
 * job.print.name; // "Saltmarsh border"
 * ```
 */
export async function readJob(path: string, options: ReadOptions = {}): Promise<LoadedJob> {
  readOptions(options, "options");
  const text = await readText(path, BYTE_LIMIT, options.signal);
  return { path, folder: resolve(dirname(path)), job: parseJob(text, path) };
}
