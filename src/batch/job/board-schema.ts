import * as v from "valibot";
import type { JobBoard, JobHead, JobLineSheet } from "./board-job.js";
import { choice, list, name, object, options, size, text } from "./schema-words.js";

const FORMATS = [
  "A4 portrait",
  "A4 landscape",
  "A3 portrait",
  "A3 landscape",
  "A2 portrait",
  "A2 landscape",
  "A1 portrait",
  "A1 landscape",
] as const;
const PAGE = `${FORMATS.map((format) => `"${format}"`).join(", ")}, or keys "width" and "height"`;
const page = v.union([choice(...FORMATS), object({ width: size, height: size })], PAGE);

const BOARD = 'true, false, or keys "page", "prints", "title"';
/** The shape of a colourway board in a job. */
export const board: v.GenericSchema<boolean | JobBoard> = v.union(
  [
    v.boolean(BOARD),
    options({
      page: v.exactOptional(page),
      prints: v.exactOptional(list(text("the path of another job file, relative to this one"))),
      title: v.exactOptional(name),
    }),
  ],
  BOARD,
);

const PER_PAGE = "a whole number, 1 to 12";
const LINE_SHEET = 'true, false, or keys "page", "perPage", "title"';
/** The shape of a line sheet in a job. */
export const lineSheet: v.GenericSchema<boolean | JobLineSheet> = v.union(
  [
    v.boolean(LINE_SHEET),
    options({
      page: v.exactOptional(page),
      perPage: v.exactOptional(v.pipe(v.number(PER_PAGE), v.integer(PER_PAGE))),
      title: v.exactOptional(name),
    }),
  ],
  LINE_SHEET,
);

/** The shape of the head of boards and line sheets. */
export const head: v.GenericSchema<JobHead> = options({
  collection: v.exactOptional(name),
  season: v.exactOptional(name),
  date: v.exactOptional(name),
  from: v.exactOptional(name),
});
