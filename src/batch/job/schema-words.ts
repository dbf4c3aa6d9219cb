import * as v from "valibot";

// Every message says what is accepted: errors quote it, and the JSON Schema shows it as the description. Objects list
// their keys in it, which is where "did you mean" looks.

/** A number as people write it, for patterns. */
export const NUMBER: string = String.raw`(?:\d+(?:\.\d+)?|\.\d+)`;
const UNIT = "(?:mm|cm|m|in|yd)";

/** What a length may be; that of a size begins so, too. */
export const LENGTH = "a number of mm, or a number with one of mm, cm, m, in, yd";
export const length: v.GenericSchema<number | string> = v.union(
  [
    v.pipe(v.number(LENGTH), v.finite(LENGTH)),
    v.pipe(v.string(LENGTH), v.regex(new RegExp(String.raw`^\s*[+-]?${NUMBER}\s*${UNIT}\s*$`), LENGTH)),
  ],
  LENGTH,
);

const SIZE = `${LENGTH}, above 0`;
/** A length above 0. */
export const size: v.GenericSchema<number | string> = v.union(
  [
    v.pipe(v.number(SIZE), v.finite(SIZE), v.gtValue(0, SIZE)),
    v.pipe(
      v.string(SIZE),
      v.regex(new RegExp(String.raw`^\s*\+?(?=[\d.]*[1-9])${NUMBER}\s*${UNIT}\s*$`), SIZE),
    ),
  ],
  SIZE,
);

export const text = (accepted: string): v.GenericSchema<string> =>
  v.pipe(v.string(accepted), v.nonEmpty(accepted));

const NAME = "text in quotation marks, without control characters";
/** One pattern with and without the flag "u", by which JSON Schema reads it. Put together from text, as such characters are. */
const PRINTABLE = new RegExp(
  [
    "^(?:[^\\u0000-\\u001f\\u007f-\\u009f\\ud800-\\udfff\\ufffe\\uffff]",
    "[\\ud800-\\udbff][\\udc00-\\udfff])+$",
  ].join("|"),
);
/** Names go into file names, drawings and reports. */
export const name: v.GenericSchema<string> = v.pipe(v.string(NAME), v.regex(PRINTABLE, NAME));

export const factor = (accepted: string): v.GenericSchema<number> =>
  v.pipe(v.number(accepted), v.finite(accepted), v.gtValue(0, accepted));
export const choice = <const T extends readonly string[]>(...words: T): v.PicklistSchema<T, string> =>
  v.picklist(words, words.map((word) => JSON.stringify(word)).join(", "));
export const object = <const T extends v.ObjectEntries>(entries: T): v.StrictObjectSchema<T, string> =>
  v.strictObject(entries, Object.keys(entries).join(", "));
/** An object of which nothing is required: an empty list would pass for one. */
export const options = <const T extends v.ObjectEntries>(
  entries: T,
): v.SchemaWithPipe<
  readonly [
    v.CustomSchema<object, v.ErrorMessage<v.CustomIssue> | undefined>,
    v.StrictObjectSchema<T, string>,
  ]
> =>
  v.pipe(
    v.custom<object>((value) => !Array.isArray(value), `keys ${Object.keys(entries).join(", ")}`),
    object(entries),
  );
export const list = <const T extends v.GenericSchema>(item: T): v.ArraySchema<T, string> =>
  v.array(item, "a list in [ ]");
