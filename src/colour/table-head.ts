import { RepetendError } from "../errors.js";
import { type Cell, splitTable } from "./csv.js";
import { readColour } from "./read.js";

/** A table from its header on. */
interface HeadedTable {
  readonly header: readonly Cell[];
  readonly rows: readonly (readonly Cell[])[];
}

/** A first line that says what separates cells, as spreadsheets write and read it; saved as a row, it has empty cells too. */
const TOLD = /^(\s*("?)sep=)([^\r\n]?)([^\r\n]*)/i;

/** Signs of ASCII that may separate cells: none that begins an ink or quotes a cell. */
const SEPARATOR = /^[\t!$-/:-@[-`{-~]$/;

/** Where a header may begin, and the separator behind it: the comma of the standard, or what spreadsheets write instead. */
const HEADER = /(?<![^\r\n])[^\S\r\n]*(?:ink|"ink")[ ]*([,;\t])/gi;

/**
 * Finds the header `ink,<name>,<name>…` of a table, and the separator. A first line `sep=;` says which it is, or else what
 * follows `ink` does. Above the header there may be empty rows and titles: rows of one cell that is no colour.
 *
 * @throws {@link RepetendError} `E_COLOURWAY` where there is no header, or more above it than titles.
 */
export function findHead(text: string): HeadedTable {
  const told = readTold(text);
  const body = told === undefined ? text : text.slice(told.end);
  const separator = told?.separator ?? findSeparator(text);
  // Its line keeps its number, so that places are those of the file.
  const lines = told === undefined ? 1 : countLines(text.slice(0, told.end));
  const rows = separator === undefined ? [] : splitTable(body, separator, lines);
  const at = rows.findIndex(([first]) => first?.text.toLowerCase() === "ink");
  const header = rows[at];
  if (header === undefined) {
    const [first] = separator === undefined ? [] : (rows[0] ?? []);
    throw new RepetendError("E_COLOURWAY", "a colourway table has no header", {
      where: first?.where ?? "1:1",
      value: first?.text ?? text.slice(0, 40),
      accepted: `a row ink,<name>,<name>… separated by ${
        told === undefined
          ? "commas, semicolons or tabs"
          : `${JSON.stringify(separator)}, as its first line says`
      }; nothing above it but empty rows and titles of one cell`,
    });
  }
  for (const row of rows.slice(0, at)) checkTitle(row);
  return { header, rows: rows.slice(at + 1) };
}

/** What the first line says of the separator, and where that line ends. */
function readTold(text: string): { readonly separator: string; readonly end: number } | undefined {
  const match = TOLD.exec(text);
  if (match === null) return undefined;
  const [line, before = "", quote = "", separator = "", behind = ""] = match;
  const isEmpty = [...behind.slice(quote.length)].every((sign) => sign === separator || sign === " ");
  if (SEPARATOR.test(separator) && behind.startsWith(quote) && isEmpty)
    return { separator, end: line.length };
  const start = Math.max(before.lastIndexOf("\n"), before.lastIndexOf("\r")) + 1;
  throw new RepetendError("E_COLOURWAY", "a separator cannot be used", {
    where: `${countLines(before)}:${before.length - start + 1}`,
    value: (separator + behind).slice(0, 40),
    accepted: 'one sign such as , ; | or a tab behind "sep=", and nothing else on the line',
  });
}

/**
 * The separator behind the first `ink` that begins a line outside quotation marks. Where there are only some inside them, a
 * mark is astray, and splitting the table tells which.
 */
function findSeparator(text: string): string | undefined {
  let inside: string | undefined;
  let [quotes, counted] = [0, 0];
  for (const match of text.matchAll(HEADER)) {
    for (; counted < match.index; counted += 1) if (text[counted] === '"') quotes += 1;
    if (quotes % 2 === 0) return match[1];
    inside ??= match[1];
  }
  return inside;
}

/** Refuses what stands above a header where it is more than a title, and so perhaps a row of the table. */
function checkTitle(row: readonly Cell[]): void {
  const filled = row.filter((cell) => cell.text.trim() !== "");
  const odd = filled[1] ?? filled.find((cell) => isColour(cell.text));
  if (odd === undefined) return;
  throw new RepetendError("E_COLOURWAY", "what stands above the header of a colourway table is no title", {
    where: odd.where,
    value: odd.text,
    accepted: "empty rows, and titles of one cell that is no colour",
  });
}

function isColour(text: string): boolean {
  try {
    readColour(text);
    return true;
  } catch {
    return false;
  }
}

const countLines = (text: string): number => text.split(/\r\n|\r|\n/).length;
