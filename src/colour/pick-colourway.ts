import type { Colourway } from "./types.js";

/** What a print's or a garment's own table has under the name of a colourway, or else that colourway itself. */
export function pickColourway(own: readonly Colourway[] | undefined, colourway: Colourway): Colourway {
  return own?.find(({ name }) => name === colourway.name) ?? colourway;
}
