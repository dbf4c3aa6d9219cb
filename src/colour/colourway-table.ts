import { aText, listOf, maybe, oneOf, partsOf } from "../checks.js";
import { nameInput, RepetendError } from "../errors.js";
import { aColourway } from "./checks.js";
import { readCsv, writeCsv } from "./colourway-csv.js";
import { readJson, writeJson } from "./colourway-json.js";
import type { Colourway } from "./types.js";

/** How a colourway table is written down. */
export type ColourwayFormat = "csv" | "json";

/** A hundred colourways of a thousand inks; a longer text is something else. */
const LONGEST_TABLE = 1_000_000;

const tableOptions = partsOf<{ readonly name?: string }>({ name: maybe(aText) });

/**
 * Reads a table of colourways, as a spreadsheet writes it or as JSON.
 *
 * CSV has a header row `ink,<name>,<name>…` and a row an ink: what is drawn, then what it becomes in each colourway. Cells
 * are separated by commas, semicolons or tabs, whichever follows `ink`, or by what a first line `sep=;` says, and quoted after
 * RFC 4180. Empty rows and titles (rows of one cell that is no colour) above the header are skipped; anything else there is
 * refused. A second column headed `name` holds labels for people and is left out. An empty cell makes no entry: the ink stays as drawn, and checking the
 * colourway against a print says so.
 *
 * JSON is `{ "<name>": { "<ink>": "<ink>" } }`, or a list of `{ "name": …, "inks": … }`.
 *
 * @param options - `name`: what the table is called, for errors.
 * @returns The colourways in the table's order, at least one.
 * @throws {@link RepetendError} with line and column: `E_COLOURWAY` for a table that cannot be used, `E_COLOUR` for a colour
 * that cannot be read.
 * @example
 * ```ts
 * import { readColourways } from "repetend";
 * const [lowTide, nightjar] = readColourways("ink,Low Tide,Nightjar\n#f2ead8,#dfe6e0,#1d1a26\n");
 * nightjar?.inks["#f2ead8"]; // "#1d1a26"
 * ```
 */
export function readColourways(text: string, options: { readonly name?: string } = {}): readonly Colourway[] {
  aText(text, "text");
  tableOptions(options, "options");
  const body = text.replace(/^\uFEFF/, "");
  try {
    if (body.length > LONGEST_TABLE) {
      throw new RepetendError("E_COLOURWAY", "a colourway table is too long", {
        value: `${body.length} characters`,
        accepted: `at most ${LONGEST_TABLE} characters`,
      });
    }
    return /^\s*[[{]/.test(body) ? readJson(body) : readCsv(body);
  } catch (error) {
    throw options.name === undefined ? error : nameInput(error, options.name);
  }
}

/**
 * Writes colourways as a table that {@link readColourways} reads back to the same data.
 *
 * @param format - `"csv"` for spreadsheets: rows in the order in which inks first appear, an empty cell where a colourway
 * has no entry, lines that end as RFC 4180 has it. `"json"`: a list, which keeps the order.
 * @throws {@link RepetendError} `E_COLOURWAY` when two colourways have one name.
 * @example
 * ```ts
 * import { colourway, writeColourways } from "repetend";
 * writeColourways([colourway("Nightjar", { "#f2ead8": "#1d1a26" })], "csv"); // "ink,Nightjar\r\n#f2ead8,#1d1a26\r\n"
 * ```
 */
export function writeColourways(colourways: readonly Colourway[], format: ColourwayFormat): string {
  listOf(aColourway)(colourways, "colourways");
  oneOf("csv", "json")(format, "format");
  const names = colourways.map(({ name }) => name);
  const twice = names.find((name, index) => names.indexOf(name) !== index);
  if (twice !== undefined) {
    throw new RepetendError("E_COLOURWAY", "two colourways have one name", { value: twice });
  }
  return format === "csv" ? writeCsv(colourways) : writeJson(colourways);
}
