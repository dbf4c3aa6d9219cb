import * as v from "valibot";
import type { JobSeparations } from "./job.js";
import { choice, list, options, size, text } from "./schema-words.js";

/** How the separations of a job are checked. */
export const separations: v.GenericSchema<JobSeparations> = options({
  trap: v.exactOptional(size),
  screen: v.exactOptional(choice("ordered", "blue-noise")),
  underBase: v.exactOptional(
    options({
      inks: v.exactOptional(list(text("an ink of the print, #rrggbb"))),
      choke: v.exactOptional(size),
    }),
  ),
  full: v.exactOptional(choice("high", "black")),
  format: v.exactOptional(choice("png", "tiff")),
});
