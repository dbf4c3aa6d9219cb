import * as v from "valibot";
import { board, head, lineSheet } from "./board-schema.js";
import { garment } from "./garment-schema.js";
import type { Job } from "./job.js";
import { choice, factor, length, list, NUMBER, name, object, options, size, text } from "./schema-words.js";
import { separations } from "./separation-schema.js";
import { bandToss, cellToss } from "./toss-schema.js";

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
  toss: v.exactOptional(bandToss),
  clip: v.exactOptional(v.boolean("true or false")),
});

const cell = {
  name,
  width: size,
  height: size,
  ground: v.exactOptional(ground),
  motifs: list(motif),
  toss: v.exactOptional(cellToss),
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
    v.pipe(list(choice("svg", "png", "tiff")), v.minLength(1, 'at least one of "svg", "png", "tiff"')),
  ),
  compression: v.exactOptional(choice("deflate", "lzw", "none")),
  space: v.exactOptional(choice("rgb", "cmyk", "lab")),
  profile: v.exactOptional(text("the path of an ICC profile, relative to the job file")),
  length: v.exactOptional(size),
  crop: v.exactOptional(
    object({ x: v.exactOptional(length), y: v.exactOptional(length), width: size, height: size }),
  ),
  edges: v.exactOptional(choice("soft", "hard")),
  separations: v.exactOptional(separations),
  sheet: v.exactOptional(v.boolean("true or false")),
  board: v.exactOptional(board),
  lineSheet: v.exactOptional(lineSheet),
});

/** The shape of a job file: the one source of its checks and of the published JSON Schema. */
export const JOB_SCHEMA: v.GenericSchema<Job> = object({
  $schema: v.exactOptional(v.string("the address of the schema")),
  print,
  colourways: v.exactOptional(text("the path of a CSV or JSON file, relative to the job file")),
  garments: v.exactOptional(list(garment)),
  head: v.exactOptional(head),
  emit: v.exactOptional(emit),
});
