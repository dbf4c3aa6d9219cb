import * as v from "valibot";
import type { JobGarment, JobPanel, JobPiece } from "./garment-job.js";
import { choice, factor, length, list, name, object, options, size, text } from "./schema-words.js";

const edge = choice("top", "right", "bottom", "left");

const CHOICE = '"#id", ".class", or { "fill": "#rrggbb" }';
const NAMED = v.pipe(v.string(CHOICE), v.regex(/^[#.]./, CHOICE));
const shapes = v.union([NAMED, object({ fill: text("a CSS colour") })], CHOICE);

const SPOT = "two numbers in user units of the sketch: x and y";
const number = (accepted: string) => v.pipe(v.number(accepted), v.finite(accepted));
const spot = v.strictTuple([number(SPOT), number(SPOT)], SPOT);

const scale = v.union(
  [
    object({ of: shapes, is: size, across: v.exactOptional(choice("height", "width")) }),
    object({ from: spot, to: spot, is: size }),
  ],
  'keys "of", "is", "across": a shape and its real length; or "from", "to", "is": two points and how far they are apart',
);

const CORNERS = "four points of the sketch: top left, top right, bottom right, bottom left";
const DRAPE = 'true, false, or keys "hold", "fullness", "corners", "guides", "height"';
const drape = v.union(
  [
    v.boolean(DRAPE),
    options({
      hold: v.exactOptional(choice("top", "bottom", "both")),
      fullness: v.exactOptional(factor("cloth for one length of the drawn edge, 1 to 10")),
      corners: v.exactOptional(v.strictTuple([spot, spot, spot, spot], CORNERS)),
      guides: v.exactOptional(list(text('"#id", ".class", or path data'))),
      height: v.exactOptional(size),
    }),
  ],
  DRAPE,
);

const LENGTHS = "two lengths: along the print, and across it";
const panel: v.GenericSchema<JobPanel> = object({
  panel: shapes,
  print: v.exactOptional(text("the path of another job file, relative to this one")),
  band: v.exactOptional(text("the name of a band")),
  level: v.exactOptional(length),
  edge: v.exactOptional(edge),
  meets: v.exactOptional(choice("top", "bottom")),
  gap: v.exactOptional(length),
  pin: v.exactOptional(object({ print: v.strictTuple([length, length], LENGTHS), at: spot })),
  along: v.exactOptional(length),
  centre: v.exactOptional(text("the name of a motif's file, without its ending")),
  grain: v.exactOptional(
    v.union([number("degrees, clockwise"), edge], 'degrees, clockwise, or "top", "right", "bottom", "left"'),
  ),
  mirrors: v.exactOptional(shapes),
  mirrored: v.exactOptional(choice("artwork", "placement")),
  continues: v.exactOptional(
    v.union(
      [NAMED, object({ fill: text("a CSS colour") }), object({ panel: shapes, from: edge, to: edge })],
      `${CHOICE}; or keys "panel", "from", "to"`,
    ),
  ),
  drape: v.exactOptional(drape),
});

const COUNT = "a whole number, 1 to 1000";
const piece: v.GenericSchema<JobPiece> = object({
  name,
  print: v.exactOptional(text("the path of another job file, relative to this one")),
  width: v.exactOptional(size),
  height: v.exactOptional(size),
  panel: v.exactOptional(shapes),
  count: v.exactOptional(v.pipe(v.number(COUNT), v.integer(COUNT))),
  band: v.exactOptional(text("the name of a band")),
  level: v.exactOptional(length),
  edge: v.exactOptional(edge),
  gap: v.exactOptional(length),
  cut: v.exactOptional(choice("along", "across")),
  match: v.exactOptional(v.boolean("true or false")),
  along: v.exactOptional(length),
  sweep: v.exactOptional(choice("gather", "scale")),
});

/** The shape of a garment in a job. */
export const garment: v.GenericSchema<JobGarment> = object({
  name,
  sketch: text("the path of an SVG file, relative to the job file"),
  scale,
  panels: list(panel),
  colourways: v.exactOptional(text("the path of a CSV or JSON file, relative to the job file")),
  clothWidth: v.exactOptional(size),
  dpi: v.exactOptional(factor("dots per inch above 0")),
  number: v.exactOptional(name),
  front: v.exactOptional(text("the name of a colourway")),
  cut: v.exactOptional(object({ pieces: list(piece), seam: v.exactOptional(length) })),
  facts: v.exactOptional(list(object({ name, value: name }))),
});
