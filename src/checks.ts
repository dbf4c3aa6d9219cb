import { type ErrorCode, RepetendError } from "./errors.js";

/**
 * Refuses a value that types would have refused, for those who write plain JavaScript. Checks stand at the front door
 * only, and tell a kind of value from another; whether a value makes sense is told where it is used.
 */
export type Check = (value: unknown, where: string) => void;

/** What was met, in a word or two where it is long. */
function describe(value: unknown): string {
  if (Array.isArray(value)) return value.length === 0 ? "an empty list" : "a list";
  if (typeof value === "object" && value !== null) return "an object";
  if (typeof value === "function") return "a function";
  return String(value);
}

/** Makes a check of a test, and of what it lets through in words. */
export function check(
  accepts: (value: unknown) => boolean,
  accepted: string,
  code: ErrorCode = "E_ARGUMENT",
): Check {
  return (value, where) => {
    if (accepts(value)) return;
    throw new RepetendError(code, "a value of the wrong kind", { where, value: describe(value), accepted });
  };
}

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

export const aText: Check = check((value) => typeof value === "string", "text");
export const aNumber: Check = check(Number.isFinite, "a finite number", "E_NUMBER");
export const aFlag: Check = check((value) => typeof value === "boolean", "true or false");
export const aFunction: Check = check((value) => typeof value === "function", "a function");
export const anObject: Check = check(isObject, "an object");
/** Told by what it does: a signal may come from another realm. */
export const aSignal: Check = check(
  (value) => isObject(value) && typeof value.throwIfAborted === "function",
  "an AbortSignal",
);
export const aList: Check = check(Array.isArray, "a list");

/** The name of a view's class, which is the same in every realm: pages have frames, and tests a window of their own. */
const classOf = (value: unknown): string =>
  ArrayBuffer.isView(value) ? Object.prototype.toString.call(value).slice("[object ".length, -1) : "";

export const isBytes = (value: unknown): boolean => classOf(value) === "Uint8Array";
/** The canvas of a browser clamps its bytes; they are bytes all the same. */
export const isClamped = (value: unknown): boolean => classOf(value) === "Uint8ClampedArray";
export const bytes: Check = check(isBytes, "a Uint8Array");

/** One of some words. */
export const oneOf = (...words: readonly string[]): Check =>
  check(
    (value) => words.some((word) => word === value),
    words.map((word) => JSON.stringify(word)).join(", "),
  );

/** Something that repetend made, which says so in its `kind`. */
export const made = (accepted: string, ...kinds: readonly string[]): Check =>
  check((value) => isObject(value) && kinds.some((kind) => kind === value.kind), accepted);

/** What may be left out. */
export const maybe =
  (one: Check): Check =>
  (value, where) => {
    if (value !== undefined) one(value, where);
  };

/** A list of things of one kind. */
export const listOf =
  (one: Check): Check =>
  (value, where) => {
    aList(value, where);
    for (const [index, item] of (value as readonly unknown[]).entries()) one(item, `${where}[${index}]`);
  };

/** An object that has things of one kind, under any names. */
export const tableOf =
  (one: Check): Check =>
  (value, where) => {
    anObject(value, where);
    for (const [key, item] of Object.entries(value as object)) one(item, `${where}[${JSON.stringify(key)}]`);
  };

/** An object with these parts; those that are read elsewhere, such as lengths, need not be listed. */
export const partsOf =
  <T extends object>(parts: { readonly [Key in keyof T]?: Check }): Check =>
  (value, where) => {
    anObject(value, where);
    for (const [key, one] of Object.entries<Check>(parts as Readonly<Record<string, Check>>)) {
      one((value as Readonly<Record<string, unknown>>)[key], `${where}.${key}`);
    }
  };
