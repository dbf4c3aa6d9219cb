import * as v from "valibot";
import type { Job } from "./job.js";

// Every message says what is accepted: errors quote it, and the JSON Schema shows it as the description. Objects list
// their keys in it, which is where "did you mean" looks.

const NUMBER = String.raw`(?:\d+(?:\.\d+)?|\.\d+)`;
const UNIT = "(?:mm|cm|m|in|yd)";

const LENGTH = "a number of mm, or a number with one of mm, cm, m, in, yd";
const length = v.union(
  [
    v.pipe(v.number(LENGTH), v.finite(LENGTH)),
    v.pipe(v.string(LENGTH), v.regex(new RegExp(String.raw`^\s*[+-]?${NUMBER}\s*${UNIT}\s*$`), LENGTH)),
  ],
  LENGTH,
);

const SIZE = `${LENGTH}, above 0`;
const size = v.union(
  [
    v.pipe(v.number(SIZE), v.finite(SIZE), v.gtValue(0, SIZE)),
    v.pipe(
      v.string(SIZE),
      v.regex(new RegExp(String.raw`^\s*\+?(?=[\d.]*[1-9])${NUMBER}\s*${UNIT}\s*$`), SIZE),
    ),
  ],
  SIZE,
);

const text = (accepted: string) => v.pipe(v.string(accepted), v.nonEmpty(accepted));
const factor = (accepted: string) => v.pipe(v.number(accepted), v.finite(accepted), v.gtValue(0, accepted));
const choice = <const T extends readonly string[]>(...words: T) =>
  v.picklist(words, words.map((word) => JSON.stringify(word)).join(", "));
const object = <const T extends v.ObjectEntries>(entries: T) =>
  v.strictObject(entries, Object.keys(entries).join(", "));
/** An object of which nothing is required: an empty list would pass for one. */
const options = <const T extends v.ObjectEntries>(entries: T) =>
  v.pipe(
    v.custom<object>((value) => !Array.isArray(value), `keys ${Object.keys(entries).join(", ")}`),
    object(entries),
  );
const list = <const T extends v.GenericSchema>(item: T) => v.array(item, "a list in [ ]");

const name = text("a name");
const ground = text('a CSS colour, or "none" for bare cloth');
const grain = choice("x", "y");

const TURN = "degrees, clockwise";
const motif = object({
  file: text("the path of an SVG file, relative to the job file"),
  at: v.strictTuple([length, length], "two lengths: along the cloth, and across it"),
  width: v.exactOptional(size),
  turn: v.exactOptional(v.pipe(v.number(TURN), v.finite(TURN))),
  flip: v.exactOptional(choice("x", "y", "xy")),
});

const band = object({
  name,
  from: length,
  to: length,
  edge: v.exactOptional(choice("top", "bottom")),
  period: v.exactOptional(size),
  fit: v.exactOptional(choice("scale", "space")),
  ground: v.exactOptional(ground),
  motifs: v.exactOptional(list(motif)),
  clip: v.exactOptional(v.boolean("true or false")),
});

const cell = {
  name,
  width: size,
  height: size,
  ground: v.exactOptional(ground),
  motifs: list(motif),
  grain: v.exactOptional(grain),
};

const STEP = 'a fraction of the repeat, for example "1/3"';
const WHOLE = "a whole number";
const print = v.variant(
  "layout",
  [
    object({
      name,
      layout: v.literal("border", '"border"'),
      repeat: size,
      width: size,
      ground: v.exactOptional(ground),
      bands: list(band),
      grain: v.exactOptional(grain),
    }),
    object({ ...cell, layout: choice("straight", "half-drop", "brick") }),
    object({
      ...cell,
      layout: v.literal("stepped", '"stepped"'),
      along: choice("column", "row"),
      step: v.pipe(v.string(STEP), v.regex(/^\s*[+-]?\d+\s*\/\s*\d+\s*$/, STEP)),
    }),
    object({
      ...cell,
      layout: v.literal("satin", '"satin"'),
      ends: v.pipe(v.number(WHOLE), v.integer(WHOLE)),
      move: v.pipe(v.number(WHOLE), v.integer(WHOLE)),
    }),
  ],
  '"border", "straight", "half-drop", "brick", "stepped", "satin"',
);

const DPI = "dots per inch above 0, one number or x and y";
const PERCENT = "a number and %, for example 4%";
const percent = v.pipe(
  v.string(PERCENT),
  v.regex(new RegExp(String.raw`^\s*[+-]?${NUMBER}\s*%\s*$`), PERCENT),
);
const emit = options({
  dpi: v.exactOptional(v.union([factor(DPI), object({ x: factor(DPI), y: factor(DPI) })], DPI)),
  scale: v.exactOptional(factor("a number above 0")),
  shrinkage: v.exactOptional(options({ warp: v.exactOptional(percent), weft: v.exactOptional(percent) })),
  formats: v.exactOptional(
    v.pipe(list(choice("svg", "png")), v.minLength(1, 'at least one of "svg", "png"')),
  ),
  edges: v.exactOptional(choice("soft", "hard")),
});

/** The shape of a job file: the one source of its checks and of the published JSON Schema. */
export const JOB_SCHEMA: v.GenericSchema<Job> = object({
  $schema: v.exactOptional(v.string("the address of the schema")),
  print,
  colourways: v.exactOptional(text("the path of a CSV file, relative to the job file")),
  emit: v.exactOptional(emit),
});
