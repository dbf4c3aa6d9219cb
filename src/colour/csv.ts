import { RepetendError } from "../errors.js";

/** One cell of a table, with the place of its first character. */
export interface Cell {
  readonly text: string;
  /** `line:column`, both from 1. */
  readonly where: string;
}

const QUOTED = /"((?:[^"]|"")*)" */y;
const BLANKS = / */y;

/** What means something else within a regular expression's brackets. */
const SPECIAL = /[\]\\^-]/;

/**
 * Splits a table into rows of cells: RFC 4180 with any of the three line ends. Cells are trimmed unless quoted; rows
 * without any text are left out.
 *
 * @param firstLine - The number of the text's first line, for places.
 * @throws {@link RepetendError} `E_COLOURWAY` for a quotation mark that does not close, or does not open a cell.
 */
export function splitTable(text: string, separator: string, firstLine = 1): readonly (readonly Cell[])[] {
  const plain = new RegExp(`[^"\\r\\n${separator.replace(SPECIAL, "\\$&")}]*`, "y");
  const rows: Cell[][] = [];
  let row: Cell[] = [];
  let [at, line, lineStart] = [0, firstLine, 0];
  while (at <= text.length) {
    BLANKS.lastIndex = at;
    at += BLANKS.exec(text)?.[0].length ?? 0;
    const where = `${line}:${at - lineStart + 1}`;
    if (text[at] === '"') {
      QUOTED.lastIndex = at;
      const match = QUOTED.exec(text);
      if (match === null) throw refuse("a quotation mark is not closed", where, text.slice(at));
      row.push({ text: (match[1] ?? "").replaceAll('""', '"'), where });
      for (const newline of match[0].matchAll(/\r\n|\r|\n/g)) {
        line += 1;
        lineStart = at + newline.index + newline[0].length;
      }
      at += match[0].length;
    } else {
      plain.lastIndex = at;
      const found = plain.exec(text)?.[0] ?? "";
      row.push({ text: found.trim(), where });
      at += found.length;
    }
    const next = text[at];
    if (next === separator) {
      at += 1;
      continue;
    }
    if (next !== undefined && next !== "\r" && next !== "\n") {
      throw refuse("a quotation mark stands inside a cell", `${line}:${at - lineStart + 1}`, text.slice(at));
    }
    if (row.some((cell) => cell.text !== "")) rows.push(row);
    row = [];
    at += text.startsWith("\r\n", at) ? 2 : 1;
    line += 1;
    lineStart = at;
  }
  return rows;
}

function refuse(problem: string, where: string, rest: string): RepetendError {
  return new RepetendError("E_COLOURWAY", problem, {
    where,
    value: rest.slice(0, 40),
    accepted:
      'cells with separators or quotation marks inside quotation marks, each of the latter doubled: "a ""b"" c"',
  });
}

/** A cell as RFC 4180 writes it; quoted too where a spreadsheet with another separator would split it. */
export function writeCell(text: string): string {
  return /[",;\t\r\n]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
