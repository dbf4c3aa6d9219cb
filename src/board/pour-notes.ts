import type { Note } from "../errors.js";
import { drawNotes } from "./note-list.js";
import { FRESH, type Rest } from "./pages.js";
import type { Part } from "./types.js";

/** Notes in the rooms of a sheet. */
interface PouredNotes {
  readonly beside: Part;
  readonly rest: Part;
  /** A page each. */
  readonly further: readonly Part[];
  /** How many had no room. */
  readonly missing: number;
}

function pour(
  rooms: { readonly beside: Rest; readonly rest: Rest },
  notes: readonly Note[],
  most: number,
  accent: string,
): PouredNotes {
  const beside = drawNotes(notes, rooms.beside, accent);
  const rest = drawNotes(notes.slice(beside.count), rooms.rest, accent);
  const further: Part[] = [];
  let told = beside.count + rest.count;
  while (told < notes.length && further.length < most) {
    const part = drawNotes(notes.slice(told), FRESH, accent);
    further.push(part);
    told += part.count;
  }
  return { beside, rest, further, missing: notes.length - told };
}

const rank = ({ level }: Note): number => (level === "warning" ? 0 : 1);

/**
 * Pours notes into the room beside the picture, then into what is left behind everything else, then onto further pages,
 * as many as are needed. Findings stand behind them and make no page: where they are too many, warnings go first.
 */
export function pourNotes(
  rooms: { readonly beside: Rest; readonly rest: Rest },
  notes: readonly Note[],
  findings: readonly Note[],
  accent: string,
): PouredNotes {
  const planned = pour(rooms, notes, Number.POSITIVE_INFINITY, accent);
  if (findings.length === 0) return planned;
  const all = [...notes, ...findings];
  const most = planned.further.length;
  const poured = pour(rooms, all, most, accent);
  if (poured.missing === 0) return poured;
  return pour(
    rooms,
    [...all].sort((one, other) => rank(one) - rank(other)),
    most,
    accent,
  );
}
