import * as v from "valibot";
import { choice, factor, list, object, size, text } from "./schema-words.js";
import type { JobBandToss, JobToss } from "./toss-job.js";

const WIDTHS = "a length above 0, or the smallest and the largest one in [ ]";
const DEGREES = "degrees, clockwise";
const WHOLE = "a whole number";
const whole = v.pipe(v.number(WHOLE), v.integer(WHOLE));
const degrees = v.pipe(v.number(DEGREES), v.finite(DEGREES));
const TURN = '"any", "one-way", "two-way", "four-way", { from, to } or turns in [ ], degrees clockwise';

const motif = object({
  file: text("the path of an SVG file, relative to the job file"),
  width: v.exactOptional(v.union([size, v.strictTuple([size, size], WIDTHS)], WIDTHS)),
  share: v.exactOptional(factor("a number above 0")),
  filler: v.exactOptional(v.boolean("true or false")),
  turn: v.exactOptional(
    v.union(
      [
        choice("any", "one-way", "two-way", "four-way"),
        object({ from: degrees, to: degrees }),
        v.pipe(list(degrees), v.minLength(1, "at least one turn")),
      ],
      TURN,
    ),
  ),
  flip: v.exactOptional(v.boolean("true or false")),
});

const toss = {
  motifs: v.pipe(list(motif), v.minLength(1, "at least one motif")),
  gap: size,
  seed: v.exactOptional(whole),
  count: v.exactOptional(v.pipe(v.number(WHOLE), v.integer(WHOLE), v.gtValue(0, "a whole number above 0"))),
  clear: v.exactOptional(v.boolean("true or false")),
};

/** What is tossed into a cell. */
export const cellToss: v.GenericSchema<JobToss> = object(toss);

/** What is tossed into a band. */
export const bandToss: v.GenericSchema<JobBandToss> = object({
  ...toss,
  across: v.exactOptional(choice("inside", "free")),
});
