import { type Colourway, colourway } from "../colour/index.js";
import { type Motif, motif } from "../motif/index.js";
import { type AllOverOptions, place } from "../repeat/index.js";

/** A leaf of two inks, with curves. */
const leaf: Motif = motif(
  '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="30mm" viewBox="0 0 20 30">' +
    '<path d="M10 1C19 8 19 20 12 29C3 22 1 10 10 1Z" fill="#3c6e5a"/><circle cx="3" cy="4" r="2.2" fill="#c8553d"/></svg>',
  { name: "leaf" },
);

/** A cell so long that it is drawn in several tasks at 120 dpi: two where it is as wide as this, of a half-drop too. */
export const longCell: AllOverOptions = {
  name: "Leaves",
  width: 8,
  height: 1800,
  ground: "#1b2a41",
  motifs: [place(leaf, { at: [3, 31], width: 9, turn: 20 }), place(leaf, { at: [1, 1700], width: 13 })],
};

/** A colourway whose inks change places, and one that leaves all as drawn. */
export const dusk: Colourway = colourway("Dusk", {
  "#1b2a41": "#f3ead7",
  "#3c6e5a": "#1b2a41",
  "#c8553d": "#d9a441",
});
export const day: Colourway = colourway("Day", {
  "#1b2a41": "#1b2a41",
  "#3c6e5a": "#3c6e5a",
  "#c8553d": "#c8553d",
});
