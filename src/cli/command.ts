/** Where text goes: a part of a stream of Node, so that `process.stdout` is one. */
export interface TextSink {
  readonly write: (text: string) => unknown;
  /** Whether a person looks at it. */
  readonly isTTY?: boolean | undefined;
  /** Its width in characters, where it is a terminal. */
  readonly columns?: number | undefined;
}

/** What a command runs with. */
export interface CommandIo {
  /** Results. */
  readonly stdout: TextSink;
  /** Progress, notes and errors. */
  readonly stderr: TextSink;
  /** Stops the work. */
  readonly signal?: AbortSignal;
}

/** One option of a command. */
export interface OptionSpec {
  readonly type: "boolean" | "string";
  /** What stands for its value in the help, for example "DIR". */
  readonly value?: string;
  /** One line of help. */
  readonly help: string;
}

/** What was given on the command line. */
export interface CommandArguments {
  readonly files: readonly string[];
  readonly flags: ReadonlySet<string>;
  readonly values: Readonly<Record<string, string>>;
}

/** One command of the command line. */
export interface Command {
  readonly name: string;
  /** Its operands, for example "JOB.json". */
  readonly operands: string;
  /** One sentence, without a full stop. */
  readonly summary: string;
  /** What else the help says, in whole lines. */
  readonly details: string;
  readonly options: Readonly<Record<string, OptionSpec>>;
  /** How many operands it takes. */
  readonly count: { readonly least: number; readonly most: number };
  /** Does the work; the result is the exit code. */
  readonly run: (given: CommandArguments, io: CommandIo) => Promise<number>;
}

/** What an exit code means. */
export const EXIT: {
  readonly done: 0;
  readonly open: 1;
  readonly refused: 2;
  readonly broken: 3;
  readonly interrupted: 130;
} = { done: 0, open: 1, refused: 2, broken: 3, interrupted: 130 };
