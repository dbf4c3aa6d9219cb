import type { Note } from "../../errors.js";
import {
  border,
  brick,
  halfDrop,
  type Placement,
  type Print,
  place,
  satin,
  stepped,
  straight,
} from "../../repeat/index.js";
import type { JobBorder, JobMotif, JobPrint } from "../job/job.js";
import { type FindMotif, fillBand, fillCell } from "./toss-print.js";

type Saying<T> = T & { readonly notes: readonly Note[] };

/** The print with what its tosses say behind what it says itself. */
function saying<T extends Saying<object>>(print: T, notes: readonly Note[]): T {
  return notes.length === 0 ? print : { ...print, notes: [...print.notes, ...notes] };
}

/** Makes a job's print: motifs placed by hand first, then those that are tossed around them. */
export function makePrint(print: JobPrint, find: FindMotif): Print {
  const placeAll = (list: readonly JobMotif[] = []): readonly Placement[] =>
    list.map(({ file, ...placing }) => place(find(file), placing));
  if (print.layout === "border") return makeBorder(print, placeAll, find);
  const { motifs, notes } = fillCell(print, placeAll(print.motifs), find);
  switch (print.layout) {
    case "straight":
      return saying(straight({ ...print, motifs }), notes);
    case "half-drop":
      return saying(halfDrop({ ...print, motifs }), notes);
    case "brick":
      return saying(brick({ ...print, motifs }), notes);
    case "stepped":
      return saying(stepped({ ...print, motifs }), notes);
    case "satin":
      return saying(satin({ ...print, motifs }), notes);
  }
}

/** Fills the bands in their order: each keeps clear of the others, as they are by then. */
function makeBorder(
  print: JobBorder,
  placeAll: (list?: readonly JobMotif[]) => readonly Placement[],
  find: FindMotif,
): Print {
  const notes: Note[] = [];
  let bands = print.bands.map((band) => ({ ...band, motifs: placeAll(band.motifs) }));
  let made = border({ ...print, bands });
  for (const [index, band] of print.bands.entries()) {
    const own = made.bands[index];
    if (band.toss === undefined || own === undefined) continue;
    const beside = made.bands.filter((other) => other !== own);
    const filled = fillBand(band, own, beside, print.repeat, bands[index]?.motifs ?? [], find);
    notes.push(...filled.notes);
    bands = bands.map((other, k) => (k === index ? { ...other, motifs: [...filled.motifs] } : other));
    made = border({ ...print, bands });
  }
  return saying(made, notes);
}
