/**
 * Every way in which repetend refuses: a closed union, stable across versions.
 * The table in docs/errors.md is made from {@link ERROR_CODES}.
 */
export const ERROR_CODES = {
  E_ARGUMENT: "an argument or an option of the wrong kind, or a word that is not known",
  E_BAND: "a band of a border does not fit: its limits, period or order make no sense",
  E_COLOUR: "a colour that cannot be read",
  E_COLOURWAY: "a colourway table or entry that cannot be used",
  E_CYCLE: "references in a drawing go round in a ring",
  E_DEPTH: "a drawing is nested deeper than 256 elements",
  E_DTD: "a drawing carries a document type with definitions of its own, or an unknown entity",
  E_ENCODING: "bytes that are not plain UTF-8 text",
  E_EXTERNAL_REF: "a drawing refers to something outside itself",
  E_FEATURE: "a drawing uses a feature that repetend does not carry over",
  E_FORMAT: "a file format that is not known or cannot hold what is asked",
  E_ID: "an id is missing where one is needed, or stands twice",
  E_IMAGE: "picture data that cannot be read, or pixel buffers that do not fit together",
  E_INK: "an ink that the print does not have",
  E_INSTANCES: "references in a drawing, or motifs in a window of cloth, multiply to more than 500,000",
  E_JOB: "a job file that does not follow its schema",
  E_LAYOUT: "a layout whose numbers make no sense",
  E_LIMIT: "a drawing or a file is larger than a stated limit",
  E_NOT_SVG: "not an SVG drawing",
  E_NUMBER: "a number that is not finite, out of range or cannot be read",
  E_QUEUE: "a queue across machines that cannot be used: no server, or nobody who serves",
  E_READ: "a file that cannot be read",
  E_REF: "a reference to an id that the drawing does not have",
  E_RENDER: "the renderer failed",
  E_SIZE: "a drawing without a usable size, or a size that is zero or negative",
  E_STYLE: "a style sheet that cannot be read",
  E_TEXT: "a drawing with live text",
  E_TOO_LARGE: "a file that would pass the limits of its format",
  E_UNIT: "a length without a known unit",
  E_USAGE:
    "a command line that cannot be understood, what a matcher cannot judge, or a pool or queue used after it was closed",
  E_WRITE: "a file that cannot be written",
  E_XML: "XML that is not well-formed",
} as const;

/** One of the stable error codes of {@link ERROR_CODES}. */
export type ErrorCode = keyof typeof ERROR_CODES;

/** The facts of a refusal; the sentence is made from them last. */
export interface ErrorFacts {
  /** The name of the input: a file name, a motif's name, an option. */
  readonly input?: string;
  /** Where in the input: `line:column`, an element path, or a path into a job. */
  readonly where?: string;
  /** The value that was met, as text; cut to 1,000 characters. */
  readonly value?: string;
  /** What would be accepted instead. */
  readonly accepted?: string;
  /** The error underneath, where there is one. */
  readonly cause?: unknown;
}

const cut = (text: string, longest: number): string =>
  text.length > longest ? `${text.slice(0, longest - 3)}...` : text;

/** What was met may be a whole hostile file: apps show, log and send these. */
const LONGEST_FACT = 1000;
const LONGEST_MET = 80;

/**
 * The one error that repetend throws: a stable code, where, the value met and what would be accepted.
 *
 * @example
 * ```ts
 * import { mm, RepetendError } from "repetend";
 * try {
 *   mm("12 parsecs");
 * } catch (error) {
 *   if (error instanceof RepetendError) console.log(error.code); // "E_UNIT"
 * }
 * ```
 */
export class RepetendError extends Error {
  override readonly name: string = "RepetendError";
  readonly code: ErrorCode;
  /** The problem alone, without place, value and what is accepted. */
  readonly problem: string;
  readonly input: string | undefined;
  readonly where: string | undefined;
  readonly value: string | undefined;
  readonly accepted: string | undefined;

  constructor(code: ErrorCode, problem: string, facts: ErrorFacts = {}) {
    const place = [facts.input, facts.where].filter((part) => part !== undefined).join(":");
    const met = facts.value === undefined ? "" : ` (met ${JSON.stringify(cut(facts.value, LONGEST_MET))})`;
    const wanted = facts.accepted === undefined ? "" : `; accepted: ${cut(facts.accepted, LONGEST_FACT)}`;
    super(
      `${code}${place ? ` ${place}` : ""}: ${cut(problem, LONGEST_FACT)}${met}${wanted}`,
      facts.cause === undefined ? undefined : { cause: facts.cause },
    );
    this.code = code;
    this.problem = cut(problem, LONGEST_FACT);
    this.input = facts.input;
    this.where = facts.where;
    this.value = facts.value === undefined ? undefined : cut(facts.value, LONGEST_FACT);
    this.accepted = facts.accepted === undefined ? undefined : cut(facts.accepted, LONGEST_FACT);
  }
}

/** The same error under another name of its input, where an outer room knows a better one: a file's path, and a place in it. */
export function renameInput(error: unknown, input: string, place?: string): unknown {
  if (!(error instanceof RepetendError)) return error;
  const { value, accepted, cause } = error;
  const where = place ?? error.where;
  return new RepetendError(error.code, error.problem, {
    input,
    ...(where === undefined ? {} : { where }),
    ...(value === undefined ? {} : { value }),
    ...(accepted === undefined ? {} : { accepted }),
    ...(cause === undefined ? {} : { cause }),
  });
}

/** The same error with the name of its input filled in, where a deeper room did not know it. */
export function nameInput(error: unknown, input: string): unknown {
  return error instanceof RepetendError && error.input === undefined ? renameInput(error, input) : error;
}

/** Something a person should know that did not stop the work. */
export interface Note {
  readonly level: "info" | "warning";
  /** A stable code, `N_…`, for scripts. */
  readonly code: string;
  /** One sentence for a person. */
  readonly message: string;
  /** Where it was met: `line:column`, an element path, a band or an ink. */
  readonly where?: string;
}
