/** One figure of a benchmark. */
export interface Row {
  readonly figure: string;
  readonly value: number | string;
  /** "s", "MB", "%", "ratio", "px"… */
  readonly unit: string;
  /** What was aimed at, as text, and whether it was reached. */
  readonly target?: string;
  readonly met?: boolean;
}

/** A benchmark: all peers in one run, medians of `runs` rounds, ratios first. */
export interface Benchmark {
  readonly title: string;
  readonly run: (options: {
    readonly runs: number;
    readonly log: (line: string) => void;
  }) => Promise<readonly Row[]>;
}
