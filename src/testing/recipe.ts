import fc from "fast-check";

const KEY = /^[A-Za-z_$][\w$]*$/;

/**
 * Lets fast-check print a value as the code that makes it again, so that a failing print can be pasted into a test.
 * The property is not enumerable: copies, comparisons and JSON do not see it.
 */
export function withRecipe<T extends object>(value: T, recipe: () => string): T {
  return Object.defineProperty(value, fc.toStringMethod, { value: recipe });
}

/** In single quotes where that spares a drawing's own quotes from being escaped. */
const writeText = (text: string): string =>
  text.includes('"') && !/['\\\n]/.test(text) ? `'${text}'` : JSON.stringify(text);

/** Plain data as code; what carries a recipe is written as that. */
export function writeCode(value: unknown): string {
  if (typeof value === "string") return writeText(value);
  if (typeof value !== "object" || value === null) return String(value);
  if (fc.hasToStringMethod(value)) return value[fc.toStringMethod]();
  if (Array.isArray(value)) return `[${value.map(writeCode).join(", ")}]`;
  const entries = Object.entries(value).filter(([, one]) => one !== undefined);
  return `{ ${entries.map(([key, one]) => `${KEY.test(key) ? key : JSON.stringify(key)}: ${writeCode(one)}`).join(", ")} }`;
}

/** A call of one of our makers as code. */
export const writeCall = (maker: string, ...values: readonly unknown[]): string =>
  `${maker}(${values.map(writeCode).join(", ")})`;
