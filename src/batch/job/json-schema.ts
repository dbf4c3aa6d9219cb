import { JOB_SCHEMA } from "./job-schema.js";

/** A JSON Schema, or a part of one. */
export type JsonSchema = Readonly<Record<string, unknown>>;

/** The parts of a check that are looked at; which of them are there depends on `type`. */
interface Check {
  readonly type: string;
  readonly message?: unknown;
  readonly requirement?: unknown;
  readonly pipe?: readonly Check[];
  readonly entries?: Readonly<Record<string, Check>>;
  readonly item?: Check;
  readonly items?: readonly Check[];
  readonly options?: readonly unknown[];
  readonly literal?: unknown;
  readonly wrapped?: Check;
}

const isCheck = (value: unknown): value is Check =>
  typeof value === "object" && value !== null && "type" in value && typeof value.type === "string";

const asCheck = (value: unknown): Check => {
  if (isCheck(value)) return value;
  throw new TypeError("the job's schema holds a check of an unknown kind");
};

/** What an action behind a type adds: a bound, a pattern, a least length. */
function describeAction({ type, requirement }: Check): JsonSchema {
  switch (type) {
    case "regex":
      return { pattern: requirement instanceof RegExp ? requirement.source : requirement };
    case "gt_value":
      return { exclusiveMinimum: requirement };
    case "non_empty":
      return { minLength: 1 };
    case "min_length":
      return { minItems: requirement };
    case "integer":
      return { type: "integer" };
    case "finite": // JSON has no other numbers
      return {};
    default:
      throw new TypeError(`the JSON Schema has no word for "${type}"`);
  }
}

function describeObject(entries: Readonly<Record<string, Check>>): JsonSchema {
  const required = Object.keys(entries).filter((key) => entries[key]?.type !== "exact_optional");
  return {
    type: "object",
    properties: Object.fromEntries(Object.entries(entries).map(([key, entry]) => [key, describe(entry)])),
    ...(required.length > 0 ? { required } : {}),
    additionalProperties: false,
  };
}

function describeType(check: Check): JsonSchema {
  const { type, options = [], items = [] } = check;
  switch (type) {
    case "string":
    case "number":
    case "boolean":
      return { type };
    case "literal":
      return { const: check.literal };
    case "picklist":
      return { enum: options };
    case "union":
      return { anyOf: options.map((option) => describe(asCheck(option))) };
    case "variant":
      return { oneOf: options.map((option) => describe(asCheck(option))) };
    case "array":
      return { type: "array", items: describe(asCheck(check.item)) };
    case "strict_tuple": // all places of ours are alike
      return {
        type: "array",
        items: describe(asCheck(items[0])),
        minItems: items.length,
        maxItems: items.length,
      };
    case "strict_object":
      return describeObject(check.entries ?? {});
    default:
      throw new TypeError(`the JSON Schema has no word for "${type}"`);
  }
}

function describe(check: Check): JsonSchema {
  if (check.type === "exact_optional") return describe(asCheck(check.wrapped));
  // Stands before an object to keep lists out, which a JSON Schema does by itself.
  if (check.type === "custom") return describe(asCheck(check.pipe?.[1]));
  const actions = (check.pipe ?? []).slice(1).map(describeAction);
  const hasOwnWords = !["strict_object", "array", "literal"].includes(check.type);
  return {
    ...(hasOwnWords && typeof check.message === "string" ? { description: check.message } : {}),
    ...Object.assign({}, describeType(check), ...actions),
  };
}

/**
 * The JSON Schema of job files (draft 7, which editors read), made from the same checks that read them.
 *
 * @example
 * ```ts
 * import { jobJsonSchema } from "repetend/batch";
 * jobJsonSchema().title; // "A job of repetend"
 * ```
 */
export function jobJsonSchema(): JsonSchema {
  return {
    $schema: "http://json-schema.org/draft-07/schema#",
    title: "A job of repetend",
    ...describe(asCheck(JOB_SCHEMA)),
  };
}
