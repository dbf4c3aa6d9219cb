import { type Colourway, compareInks, pickColourway } from "../../colour/index.js";
import { type Note, RepetendError } from "../../errors.js";
import { checkColourway, type Print } from "../../repeat/index.js";
import type { ReadGarment } from "./read-garments.js";

/** A colourway with the entries that a garment's own table has under its name. */
function joinColourway(garment: string, one: Colourway, own: readonly Colourway[]): Colourway {
  const inks = new Map(Object.entries(one.inks));
  for (const [ink, to] of Object.entries(own.find(({ name }) => name === one.name)?.inks ?? {})) {
    const known = inks.get(ink);
    if (known !== undefined && known !== to)
      throw new RepetendError("E_COLOURWAY", `two tables make two of one ink in colourway "${one.name}"`, {
        input: garment,
        value: `${ink} to ${known} and ${to}`,
        accepted: "the same entry, or another colour in the sketch",
      });
    inks.set(ink, to);
  }
  return { ...one, inks: Object.fromEntries(inks) };
}

/**
 * The colourways of a job for one garment: the entries of the job's table and of the garment's own, joined by the names
 * of the colourways. Companion prints bring tables of their own.
 *
 * @throws `RepetendError` E_COLOURWAY where two tables make two of one ink.
 */
export function joinColourways(
  { name, own = [] }: ReadGarment,
  colourways: readonly Colourway[],
): readonly Colourway[] {
  return colourways.map((one) => joinColourway(name, one, own));
}

/** A garment and what of it a colourway can change. */
export interface PaintedGarment {
  readonly read: ReadGarment;
  /** The colourways of the job, joined for this garment. */
  readonly joined: readonly Colourway[];
  /** The inks of its prints, and those of its own colours that the sketch paints, as drawn. */
  readonly painted: readonly string[];
}

/**
 * What is wrong between a job's garments and its colourways: inks of companion prints without an entry or running into
 * one, colourways that a garment's own table lacks, own colours that run into one, and rows of a table that no garment
 * with this table paints.
 *
 * @throws `RepetendError` with `strict`, E_COLOURWAY on the first of them.
 */
export function checkGarmentColourways(
  garments: readonly PaintedGarment[],
  strict: boolean,
): readonly Note[] {
  const notes = [...garments.flatMap(checkGarment), ...findIdleRows(garments)];
  const [first] = notes;
  if (strict && first !== undefined)
    throw new RepetendError("E_COLOURWAY", first.message, {
      ...(first.where === undefined ? {} : { where: first.where }),
    });
  return notes;
}

function checkGarment({ read, joined, painted }: PaintedGarment): readonly Note[] {
  const { name, own, companions, options } = read;
  const mine = (options.garmentInks ?? []).filter((ink) => painted.includes(ink));
  const notes = joined.flatMap((colourway) => [
    ...companions.flatMap(({ print, colourways }) => checkPrint(print, pickColourway(colourways, colourway))),
    ...(own === undefined ? [] : checkOwn(mine, colourway.name, own)),
  ]);
  return notes.map((note) => ({ ...note, where: `${name}, ${note.where}` }));
}

/** Entries for other prints and for the garment are no fault of this print. */
const isForOthers = ({ code }: Note): boolean => code === "N_INK_UNKNOWN" || code === "N_INK_UNUSED";

const checkPrint = (print: Print, colourway: Colourway): readonly Note[] =>
  checkColourway(print, colourway).filter((note) => !isForOthers(note));

function checkOwn(mine: readonly string[], name: string, own: readonly Colourway[]): readonly Note[] {
  const colourway = own.find((one) => one.name === name);
  if (colourway !== undefined) return compareInks(mine, colourway).filter((note) => !isForOthers(note));
  const message = `the garment's table has no colourway "${name}": its colours stay as drawn`;
  return [{ level: "warning", code: "N_INK_MISSING", where: name, message }];
}

function findIdleRows(garments: readonly PaintedGarment[]): readonly Note[] {
  const tables = [...new Set(garments.flatMap(({ read }) => read.table ?? []))];
  return tables.flatMap((table) => {
    const sharing = garments.filter(({ read }) => read.table === table);
    const rows = sharing[0]?.read.options.garmentInks ?? [];
    const names = sharing.map(({ read }) => read.name).join(", ");
    return rows
      .filter((ink) => !sharing.some(({ painted }) => painted.includes(ink)))
      .map((ink): Note => {
        const message = `the table of ${names} names ${ink}, which no sketch paints`;
        return { level: "warning", code: "N_INK_UNKNOWN", where: ink, message };
      });
  });
}
