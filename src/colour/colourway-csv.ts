import { RepetendError } from "../errors.js";
import { type ColourwayEntry, collectColourway, readName } from "./colourway.js";
import { type Cell, writeCell } from "./csv.js";
import { readColour } from "./read.js";
import { findHead } from "./table-head.js";
import type { Colourway } from "./types.js";

/** Reads the colourways of a table with a header row `ink, <name>, <name>…`. */
export function readCsv(text: string): readonly Colourway[] {
  const { header, rows } = findHead(text);
  const columns = readHeader(header);
  const labels = isLabelled(header) ? 1 : undefined;
  const entries = new Map<number, ColourwayEntry[]>(columns.map(({ index }) => [index, []]));
  for (const row of rows) readRow(row, labels, entries);
  return columns.map(({ index, name }) => collectColourway(name, entries.get(index) ?? []));
}

interface Column {
  readonly index: number;
  readonly name: string;
}

const isLabelled = (header: readonly Cell[]): boolean => header[1]?.text.toLowerCase() === "name";

function readHeader(header: readonly Cell[]): readonly Column[] {
  const columns: Column[] = [];
  const names = new Set<string>();
  for (const [index, cell] of header.entries()) {
    if (index === 0 || (index === 1 && isLabelled(header)) || cell.text === "") continue;
    const name = readName(cell.text, cell.where);
    if (names.has(name)) {
      throw new RepetendError("E_COLOURWAY", "two colourways have one name", {
        where: cell.where,
        value: name,
      });
    }
    names.add(name);
    columns.push({ index, name });
  }
  if (columns.length > 0) return columns;
  throw new RepetendError("E_COLOURWAY", "a colourway table has no colourways", {
    where: header[0]?.where ?? "1:1",
    accepted: "a column for each colourway, headed by its name",
  });
}

/** Puts each cell of a row into its column's entries; `labels` is the column that is left out. */
function readRow(
  row: readonly Cell[],
  labels: number | undefined,
  entries: ReadonlyMap<number, ColourwayEntry[]>,
): void {
  const ink = row[0];
  // An ink with no entry at all must be a colour too, or a slip in it would go unseen.
  if (ink !== undefined && ink.text !== "") readColour(ink.text, ink.where);
  for (const [index, cell] of row.entries()) {
    if (index === 0 || cell.text === "") continue;
    if (ink === undefined || ink.text === "") {
      throw new RepetendError("E_COLOURWAY", "a row of a colourway table names no ink", {
        where: ink?.where ?? cell.where,
        value: cell.text,
        accepted: "an ink of the artwork in the first column",
      });
    }
    const column = entries.get(index);
    if (column !== undefined)
      column.push({ ink: ink.text, to: cell.text, inkAt: ink.where, toAt: cell.where });
    else if (index !== labels) {
      throw new RepetendError("E_COLOURWAY", "a cell of a colourway table stands under no colourway", {
        where: cell.where,
        value: cell.text,
        accepted: "as many cells as the header has; colours with commas in quotation marks",
      });
    }
  }
}

/** Writes colourways as a table that {@link readCsv} reads back, with the line ends of RFC 4180. */
export function writeCsv(colourways: readonly Colourway[]): string {
  const inks = [...new Set(colourways.flatMap((one) => Object.keys(one.inks)))];
  // A second column headed "name" would be read as labels, so a colourway of that name gets one before it.
  const labels = colourways[0]?.name.toLowerCase() === "name";
  const rows = [
    ["ink", ...(labels ? ["name"] : []), ...colourways.map((one) => one.name)],
    ...inks.map((ink) => [
      ink,
      ...(labels ? [""] : []),
      ...colourways.map((one) => one.given?.[ink] ?? one.inks[ink] ?? ""),
    ]),
  ];
  return rows.map((row) => `${row.map(writeCell).join(",")}\r\n`).join("");
}
