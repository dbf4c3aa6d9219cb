/** Numbers in order, as many as come. */
class Growing {
  #data = new Uint32Array(1024);
  length = 0;

  push(value: number): void {
    if (this.length === this.#data.length) {
      const larger = new Uint32Array(2 * this.#data.length);
      larger.set(this.#data);
      this.#data = larger;
    }
    this.#data[this.length++] = value;
  }

  take(): Uint32Array {
    return this.#data.slice(0, this.length);
  }
}

/** Rows as runs of equal values: the shape of a band without what its values mean. */
export interface RunRows {
  readonly rows: Uint32Array;
  readonly ends: Uint32Array;
  readonly values: Uint32Array;
}

/** Writes rows of runs, joining neighbours of one value. */
export class RunWriter {
  readonly #rows = new Growing();
  readonly #ends = new Growing();
  readonly #values = new Growing();
  #open = false;
  #value = 0;
  #end = 0;

  /** Adds pixels of one value, up to the column `end`. */
  push(value: number, end: number): void {
    if (this.#open && value !== this.#value) this.#close();
    this.#open = true;
    this.#value = value;
    this.#end = end;
  }

  /** Starts the next row; the first one, too. */
  startRow(): void {
    if (this.#open) this.#close();
    this.#rows.push(this.#ends.length);
  }

  /** Ends the last row and hands over what was written. */
  finish(): RunRows {
    if (this.#open) this.#close();
    this.#rows.push(this.#ends.length);
    return { rows: this.#rows.take(), ends: this.#ends.take(), values: this.#values.take() };
  }

  #close(): void {
    this.#ends.push(this.#end);
    this.#values.push(this.#value);
    this.#open = false;
  }
}

/** Rows in which each value stands for what a table makes of it. */
export function mapRuns(runs: RunRows, height: number, table: ArrayLike<number>): RunRows {
  const writer = new RunWriter();
  for (let y = 0; y < height; y++) {
    writer.startRow();
    const last = runs.rows[y + 1] ?? 0;
    for (let run = runs.rows[y] ?? 0; run < last; run++) {
      writer.push(table[runs.values[run] ?? 0] ?? 0, runs.ends[run] ?? 0);
    }
  }
  return writer.finish();
}
