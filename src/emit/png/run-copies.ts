import type { RunRows } from "../../image/index.js";

/** A token of pixels copied from before; the next token is how far back, in bytes. Values are below it. */
export const COPY = 0x8000_0000;
/** The filter byte before each row. */
export const ROW_START = 0xc000_0000;

/** A copy reaches back at most this far, in bytes (RFC 1951, section 2). */
const WINDOW = 32768;

/** So many places that begin alike are looked at; more win little. */
const TRIES = 12;

/** A copy of so many pixels is good enough not to look for a longer one. */
const LONG_ENOUGH = 86;

/**
 * A band's pixels, and where pairs of them occurred before. It holds two large arrays, which serve for one band after the
 * other.
 */
export class CopyFinder {
  #pixels: Uint32Array = new Uint32Array(0);
  #before: Int32Array = new Int32Array(0);
  #width = 1;
  #channels = 1;
  readonly #latest = new Int32Array(1 << 15);
  /** What {@link find} found: where the copy is taken from, and how many pixels it has. */
  from = -1;
  length = 0;

  /** Takes a band's pixels in and forgets those before. */
  load({ rows, ends, values }: RunRows, width: number, height: number, channels: number): void {
    this.#width = width;
    this.#channels = channels;
    this.#latest.fill(-1);
    if (this.#pixels.length < width * height) {
      this.#pixels = new Uint32Array(width * height);
      this.#before = new Int32Array(width * height);
    }
    for (let y = 0; y < height; y++) {
      const row = y * width;
      const last = rows[y + 1] ?? 0;
      let at = row;
      for (let run = rows[y] ?? 0; run < last; run++) {
        const end = row + (ends[run] ?? 0);
        this.#pixels.fill(values[run] ?? 0, at, end);
        at = end;
      }
    }
  }

  /** How far back a place is, in bytes; each row has its filter byte. */
  distance(from: number, to: number): number {
    const rows = Math.floor(to / this.#width) - Math.floor(from / this.#width);
    return (to - from) * this.#channels + rows;
  }

  /** Remembers a place, under the two pixels that begin there. */
  remember(at: number): void {
    const slot = this.#slot(at);
    this.#before[at] = this.#latest[slot] as number;
    this.#latest[slot] = at;
  }

  /** Finds the longest copy for the pixels from here to the end of the row, the nearest of those as long. */
  find(at: number): void {
    const rowEnd = at - (at % this.#width) + this.#width;
    this.from = -1;
    this.length = 0;
    let from = this.#latest[this.#slot(at)] as number;
    for (let tries = 0; from >= 0 && tries < TRIES && this.length < LONG_ENOUGH; tries++) {
      if (this.distance(from, at) > WINDOW) return;
      const length = this.#match(from, at, rowEnd);
      if (length > this.length) {
        this.length = length;
        this.from = from;
      }
      from = this.#before[from] as number;
    }
  }

  /** How many pixels a copy from the row above would have. */
  matchAbove(at: number): number {
    if (at < this.#width) return 0;
    return this.#match(at - this.#width, at, at - (at % this.#width) + this.#width);
  }

  #match(from: number, at: number, rowEnd: number): number {
    const pixels = this.#pixels;
    const most = Math.min(rowEnd - at, this.#width - (from % this.#width));
    let length = 0;
    while (length < most && pixels[from + length] === pixels[at + length]) length++;
    return length;
  }

  #slot(at: number): number {
    const [one, other] = [this.#pixels[at] as number, this.#pixels[at + 1] ?? 0];
    const mixed = Math.imul(one, 0x2c1b3c6d) ^ Math.imul(other, 0x297a2d39);
    return (mixed ^ (mixed >>> 15)) & 0x7fff;
  }
}

/**
 * Finds copies in rows of runs, row by row and from the left: pixels that stood somewhere before, the row above first of
 * all, or a run's own pixels, whichever reaches further. What is not copied is spelled out.
 *
 * @returns tokens: {@link ROW_START}, a value, or {@link COPY} with a number of pixels and a distance after it.
 */
export function findCopies(
  runs: RunRows,
  width: number,
  height: number,
  channels: number,
  finder: CopyFinder,
): Uint32Array {
  const { rows, ends, values } = runs;
  // A copy is of 3 bytes at least, and pays from two pixels on.
  const shortest = channels === 1 ? 3 : 1;
  const isAboveInReach = width * channels + 1 <= WINDOW;
  finder.load(runs, width, height, channels);
  // A run is spelled out in a few tokens, with a copy before and after it.
  const tokens = new Uint32Array(
    height + Math.min(2 * width * height, (shortest + 5) * (ends.length + height)),
  );
  let length = 0;
  const copy = (pixels: number, distance: number): void => {
    tokens[length++] = COPY + pixels;
    tokens[length++] = distance;
  };
  for (let y = 0; y < height; y++) {
    tokens[length++] = ROW_START;
    let run = rows[y] ?? 0;
    let [x, start, known] = [0, 0, -1];
    const row = y * width;
    while (x < width) {
      let end = ends[run] ?? width;
      while (end <= x) {
        start = end;
        end = ends[++run] ?? width;
        if (start < x) finder.remember(row + start);
      }
      const isInside = x > start;
      let [pixels, from] = [isAboveInReach ? finder.matchAbove(row + x) : 0, row + x - width];
      if (!isInside && known !== x) {
        if (pixels < LONG_ENOUGH) {
          finder.find(row + x);
          // One that is no longer than from the row above hardly pays for telling where it is.
          if (finder.length > pixels) [pixels, from] = [finder.length, finder.from];
        }
        finder.remember(row + x);
        known = x;
      }
      const to = x + pixels;
      if (pixels > 1 && pixels >= shortest && (isInside ? to > end : to >= end)) {
        copy(pixels, finder.distance(from, row + x));
        x = to;
      } else if (isInside && end - x >= shortest) {
        copy(end - x, channels);
        x = end;
      } else {
        tokens[length++] = values[run] ?? 0;
        x++;
      }
    }
  }
  return tokens.slice(0, length);
}
