import type { Note } from "../../errors.js";
import type { Part } from "../types.js";
import { breakNote, countFitting, drawNotes } from "./note-list.js";
import { FRESH, type Rest } from "./pages.js";

/** The rooms of a sheet: beside the picture, and behind everything else. Further pages are as wide as what is behind. */
export interface NoteRooms {
  readonly beside: Rest;
  readonly rest: Rest;
}

/** A note, and its lines in both widths. */
interface Measured {
  readonly note: Note;
  readonly beside: number;
  readonly across: number;
}

/** Which notes stand in which room. */
export interface PouredNotes {
  readonly beside: readonly Note[];
  readonly rest: readonly Note[];
  /** A page each. */
  readonly further: readonly (readonly Note[])[];
  /** How many had no room. */
  readonly missing: number;
}

function pour(rooms: NoteRooms, notes: readonly Measured[], most: number): PouredNotes {
  let told = 0;
  const take = (room: Rest, width: "beside" | "across"): readonly Note[] => {
    const left = notes.slice(told);
    const count = countFitting(
      left.map((one) => one[width]),
      room,
    );
    told += count;
    return left.slice(0, count).map(({ note }) => note);
  };
  const beside = take(rooms.beside, "beside");
  const rest = take(rooms.rest, "across");
  const further: (readonly Note[])[] = [];
  while (told < notes.length && further.length < most) further.push(take(FRESH, "across"));
  return { beside, rest, further, missing: notes.length - told };
}

const rank = ({ note }: Measured): number => (note.level === "warning" ? 0 : 1);

/** In how small steps a picture gives way, in mm: less than a line. */
const STEP = 1;

/**
 * Pours notes into the room beside the picture, then into what is left behind everything else, then onto further pages,
 * as many as are needed. Findings stand behind them and make no page. Where they would be too many, the picture gives way:
 * what stands below it moves up with it, and there is more room behind. Where they still are, warnings go first.
 *
 * @param spare - By how much the picture can be shorter, in mm.
 * @returns The notes in their rooms, and by how much the picture must be shorter: as little as does it, or where nothing
 * does, as little as leaves the fewest missing.
 */
export function pourNotes(
  rooms: NoteRooms,
  spare: number,
  notes: readonly Note[],
  findings: readonly Note[],
): { readonly poured: PouredNotes; readonly shorter: number } {
  const measure = (note: Note): Measured => {
    const [beside, across] = [rooms.beside, rooms.rest].map(({ width }) => breakNote(note, width).length);
    return { note, beside: beside ?? 0, across: across ?? 0 };
  };
  const known = notes.map(measure);
  const planned = pour(rooms, known, Number.POSITIVE_INFINITY);
  if (findings.length === 0) return { poured: planned, shorter: 0 };
  const pages = planned.further.length;
  const all = [...known, ...findings.map(measure)];
  const urgent = [...all].sort((one, other) => rank(one) - rank(other));
  let best: { readonly poured: PouredNotes; readonly shorter: number } | undefined;
  for (let shorter = 0; shorter <= spare && best?.poured.missing !== 0; shorter += STEP) {
    const given = giveWay(rooms, shorter);
    const whole = pour(given, all, pages);
    const poured = whole.missing === 0 ? whole : pour(given, urgent, pages);
    // The pages stay those of the plan.
    const isBetter = best === undefined || poured.missing < best.poured.missing;
    if (isBetter && poured.further.length === pages) best = { poured, shorter };
  }
  return best ?? { poured: pour(rooms, all, pages), shorter: 0 };
}

/** The rooms where the picture is shorter by so many mm. */
function giveWay({ beside, rest }: NoteRooms, shorter: number): NoteRooms {
  return {
    beside: { ...beside, bottom: beside.bottom - shorter },
    rest: { ...rest, y: rest.y - shorter },
  };
}

/** Draws notes in their rooms. */
export function drawPoured(
  rooms: NoteRooms,
  { beside, rest, further }: PouredNotes,
  accent: string,
): { readonly beside: Part; readonly rest: Part; readonly further: readonly Part[] } {
  return {
    beside: drawNotes(beside, rooms.beside, accent),
    rest: drawNotes(rest, rooms.rest, accent),
    further: further.map((some) => drawNotes(some, FRESH, accent)),
  };
}
