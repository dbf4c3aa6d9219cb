import { type Colourway, compareInks } from "../colour/index.js";
import { type Note, RepetendError } from "../errors.js";
import { checkColourway, type Print } from "../repeat/index.js";
import type { ReadGarment } from "./read-garments.js";

/** A colourway with the entries that other tables have under its name. */
function joinColourway(
  garment: string,
  one: Colourway,
  tables: readonly (readonly Colourway[])[],
): Colourway {
  const inks = new Map(Object.entries(one.inks));
  for (const table of tables) {
    for (const [ink, to] of Object.entries(table.find(({ name }) => name === one.name)?.inks ?? {})) {
      const known = inks.get(ink);
      if (known !== undefined && known !== to)
        throw new RepetendError("E_COLOURWAY", `two tables make two of one ink in colourway "${one.name}"`, {
          input: garment,
          value: `${ink} to ${known} and ${to}`,
          accepted: "the same entry, or another colour in the sketch",
        });
      inks.set(ink, to);
    }
  }
  return { ...one, inks: Object.fromEntries(inks) };
}

/**
 * The colourways of a job for one garment: the entries of the job's table, of the tables of companion prints, and of
 * the garment's own, joined by the names of the colourways.
 *
 * @throws {@link RepetendError} E_COLOURWAY where two tables make two of one ink.
 */
export function joinColourways(
  { name, own, companions }: ReadGarment,
  colourways: readonly Colourway[],
): readonly Colourway[] {
  const tables = [...companions.map((one) => one.colourways), ...(own === undefined ? [] : [own])];
  return colourways.map((one) => joinColourway(name, one, tables));
}

/**
 * What is wrong between a garment and its colourways: inks of companion prints without an entry or running into one,
 * colourways that the garment's own table lacks, own colours that the sketch does not paint or that run into one.
 *
 * @param painted the inks of the garment, prints and all, as drawn.
 * @throws {@link RepetendError} with `strict`, E_COLOURWAY on the first of them.
 */
export function checkGarmentColourways(
  { name, own, companions, options }: ReadGarment,
  joined: readonly Colourway[],
  painted: readonly string[],
  strict: boolean,
): readonly Note[] {
  const rows = options.garmentInks ?? [];
  const mine = rows.filter((ink) => painted.includes(ink));
  const notes = [
    ...(joined.length === 0 ? [] : rows.filter((ink) => !mine.includes(ink))).map((ink) =>
      warn("N_INK_UNKNOWN", ink, `the garment's table names ${ink}, which the sketch does not paint`),
    ),
    ...joined.flatMap((colourway) => [
      ...companions.flatMap(({ print }) => checkPrint(print, colourway)),
      ...(own === undefined ? [] : checkOwn(mine, colourway.name, own)),
    ]),
  ];
  const [first] = notes;
  if (strict && first !== undefined)
    throw new RepetendError("E_COLOURWAY", first.message, {
      input: name,
      ...(first.where === undefined ? {} : { where: first.where }),
    });
  return notes.map((note) => ({ ...note, where: `${name}, ${note.where}` }));
}

const warn = (code: string, where: string, message: string): Note => ({
  level: "warning",
  code,
  message,
  where,
});

/** Entries for other prints and for the garment are no fault of this print. */
const checkPrint = (print: Print, colourway: Colourway): readonly Note[] =>
  checkColourway(print, colourway).filter(({ code }) => code !== "N_INK_UNKNOWN");

function checkOwn(mine: readonly string[], name: string, own: readonly Colourway[]): readonly Note[] {
  const colourway = own.find((one) => one.name === name);
  if (colourway === undefined)
    return [
      warn(
        "N_INK_MISSING",
        name,
        `the garment's table has no colourway "${name}": its colours stay as drawn`,
      ),
    ];
  return compareInks(mine, colourway).filter(({ code }) => code !== "N_INK_UNKNOWN");
}
