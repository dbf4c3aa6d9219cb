import type { Colourway } from "../../colour/index.js";

/** Where no colourway is given. */
export const AS_DRAWN: Colourway = { kind: "colourway", name: "As drawn", inks: {} };
