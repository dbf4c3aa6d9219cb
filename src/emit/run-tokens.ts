import type { RunRows } from "../image/index.js";
import {
  DISTANCES,
  distanceCode,
  END_OF_BLOCK,
  type ExtraCode,
  LITERALS_AND_LENGTHS,
  lengthCode,
  nextCopy,
} from "./deflate-block.js";

/** Some tokens that are written with codes of their own, and what is known of them whatever the colours. */
export interface TokenBlock {
  readonly from: number;
  readonly to: number;
  /** The values that are spelled out, each once, and how often. */
  readonly values: Uint32Array;
  readonly valueCounts: Uint32Array;
  /** How often each literal and length symbol occurs, without the spelled-out values; and each distance symbol. */
  readonly lengths: Uint32Array;
  readonly distances: Uint32Array;
}

/**
 * A band as what a compressor finds in it: pixels to be spelled out, and copies of pixels before. It is found once and
 * holds for whatever colours the values have, since equal values have equal bytes in all of them.
 */
export interface RunTokens {
  readonly width: number;
  readonly height: number;
  /** Bytes a pixel. */
  readonly channels: 1 | 3 | 4;
  /** {@link ROW_START}, a value, or {@link COPY} (and {@link ABOVE}) with a number of pixels. */
  readonly tokens: Uint32Array;
  readonly blocks: readonly TokenBlock[];
  /** The distance of the left neighbour, and of the row above. */
  readonly near: ExtraCode;
  readonly far: ExtraCode;
  /** For each value: its pixels, and the sum over them of the bytes from each to the end of the band, its own included. */
  readonly counts: Float64Array;
  readonly places: Float64Array;
}

/** A token of pixels copied: from the left neighbour, or with {@link ABOVE} from the row above. Values are below it. */
export const COPY = 0x8000_0000;
export const ABOVE = 0x4000_0000;
/** The filter byte before each row. */
export const ROW_START: number = COPY + ABOVE;

/** Tokens of a block: enough for its codes to pay, few enough for them to follow the artwork. */
const BLOCK_TOKENS = 1 << 16;

/** A copy reaches back at most this far, in bytes (RFC 1951, section 2). */
const WINDOW = 32768;

/**
 * Finds the copies in rows of runs.
 *
 * @param valueCount one more than the largest value, at most 2^30.
 */
export function findTokens(
  runs: RunRows,
  size: { readonly width: number; readonly height: number },
  channels: 1 | 3 | 4,
  valueCount: number,
): RunTokens {
  if (valueCount > ABOVE) throw new RangeError("too many values for tokens");
  const { width, height } = size;
  const near = distanceCode(channels);
  const far = width * channels + 1 <= WINDOW ? distanceCode(width * channels + 1) : near;
  const tokens = findCopies(runs, width, height, channels);
  const counter = new Uint32Array(valueCount);
  const blocks: TokenBlock[] = [];
  for (let from = 0; from < tokens.length; from += BLOCK_TOKENS) {
    const to = Math.min(tokens.length, from + BLOCK_TOKENS);
    blocks.push(countBlock(tokens, from, to, { channels, near, far }, counter));
  }
  return {
    width,
    height,
    channels,
    tokens,
    blocks,
    near,
    far,
    ...locateValues(runs, height, width * channels + 1, channels, valueCount),
  };
}

/** Counts a block; `counter` is all 0, and is so again afterwards. */
function countBlock(
  tokens: Uint32Array,
  from: number,
  to: number,
  { channels, near, far }: Pick<RunTokens, "channels" | "near" | "far">,
  counter: Uint32Array,
): TokenBlock {
  const lengths = new Uint32Array(LITERALS_AND_LENGTHS);
  const distances = new Uint32Array(DISTANCES);
  const values: number[] = [];
  const count = (counts: Uint32Array, symbol: number) => {
    counts[symbol] = (counts[symbol] ?? 0) + 1;
  };
  for (let at = from; at < to; at++) {
    const token = tokens[at] ?? 0;
    if (token < COPY) {
      if (counter[token] === 0) values.push(token);
      count(counter, token);
    } else if (token === ROW_START) {
      count(lengths, 0);
    } else {
      const { symbol } = (token & ABOVE) === 0 ? near : far;
      let bytes = (token & (ABOVE - 1)) * channels;
      while (bytes > 0) {
        const length = nextCopy(bytes);
        count(lengths, lengthCode(length).symbol);
        count(distances, symbol);
        bytes -= length;
      }
    }
  }
  count(lengths, END_OF_BLOCK);
  const valueCounts = Uint32Array.from(values, (value) => counter[value] ?? 0);
  for (const value of values) counter[value] = 0;
  return { from, to, values: Uint32Array.from(values), valueCounts, lengths, distances };
}

/** How often each value occurs, and how far from the end. */
function locateValues(
  { rows, ends, values }: RunRows,
  height: number,
  rowBytes: number,
  channels: number,
  valueCount: number,
): Pick<RunTokens, "counts" | "places"> {
  const counts = new Float64Array(valueCount);
  const places = new Float64Array(valueCount);
  for (let y = 0; y < height; y++) {
    const toEnd = (height - y) * rowBytes - 1;
    const last = rows[y + 1] ?? 0;
    let start = 0;
    for (let run = rows[y] ?? 0; run < last; run++) {
      const end = ends[run] ?? 0;
      const value = values[run] ?? 0;
      const pixels = end - start;
      counts[value] = (counts[value] ?? 0) + pixels;
      // An arithmetic series of the bytes from each pixel's first byte to the end.
      const first = toEnd - start * channels;
      places[value] = (places[value] ?? 0) + pixels * first - (channels * pixels * (pixels - 1)) / 2;
      start = end;
    }
  }
  return { counts, places };
}

/**
 * Row by row and from the left: whichever reaches further is taken, the row above or the run's own pixels. A copy is 3
 * bytes at least.
 */
function findCopies(
  { rows, ends, values }: RunRows,
  width: number,
  height: number,
  channels: number,
): Uint32Array {
  const shortest = channels === 1 ? 3 : 1;
  const isAboveInReach = width * channels + 1 <= WINDOW;
  // A run is one token, or a pixel and a copy; short ones of one channel are spelled out.
  const tokens = new Uint32Array(height + Math.min(width * height, (shortest + 2) * (ends.length + height)));
  let length = 0;
  for (let y = 0; y < height; y++) {
    tokens[length++] = ROW_START;
    let run = rows[y] ?? 0;
    let above = y > 0 && isAboveInReach ? (rows[y - 1] ?? 0) : -1;
    let [x, start] = [0, 0];
    while (x < width) {
      let end = ends[run] ?? width;
      while (end <= x) {
        start = end;
        end = ends[++run] ?? width;
      }
      let to = x;
      if (above >= 0) {
        while ((ends[above] ?? width) <= x) above++;
        let [one, other] = [run, above];
        while (to < width && values[one] === values[other]) {
          const [oneEnd, otherEnd] = [ends[one] ?? width, ends[other] ?? width];
          to = Math.min(oneEnd, otherEnd);
          if (oneEnd === to) one++;
          if (otherEnd === to) other++;
        }
      }
      const isInside = x > start;
      if (to - x > 1 && to - x >= shortest && (isInside ? to > end : to >= end)) {
        tokens[length++] = COPY + ABOVE + to - x;
        x = to;
      } else if (isInside && end - x >= shortest) {
        tokens[length++] = COPY + end - x;
        x = end;
      } else {
        tokens[length++] = values[run] ?? 0;
        x++;
      }
    }
  }
  return tokens.slice(0, length);
}
