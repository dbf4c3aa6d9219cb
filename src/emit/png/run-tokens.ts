import type { RunRows } from "../../image/index.js";
import {
  DISTANCES,
  distanceCode,
  END_OF_BLOCK,
  LITERALS_AND_LENGTHS,
  lengthCode,
  nextCopy,
} from "../deflate/block.js";
import { COPY, CopyFinder, findCopies, ROW_START } from "./run-copies.js";

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
  /** As `findCopies` gives them. */
  readonly tokens: Uint32Array;
  readonly blocks: readonly TokenBlock[];
  /** For each value: its pixels, and the sum over them of the bytes from each to the end of the band, its own included. */
  readonly counts: Float64Array;
  readonly places: Float64Array;
}

/** Tokens of a block: enough for its codes to pay, few enough for them to follow the artwork. */
const BLOCK_TOKENS = 1 << 16;

/**
 * Finds the copies in rows of runs.
 *
 * @param valueCount one more than the largest value, at most 2^30.
 * @param finder one for all bands of a picture saves memory.
 */
export function findTokens(
  runs: RunRows,
  size: { readonly width: number; readonly height: number },
  channels: 1 | 3 | 4,
  valueCount: number,
  finder: CopyFinder = new CopyFinder(),
): RunTokens {
  if (valueCount > COPY / 2) throw new RangeError("too many values for tokens");
  const { width, height } = size;
  const tokens = findCopies(runs, width, height, channels, finder);
  return {
    width,
    height,
    channels,
    tokens,
    blocks: findBlocks(tokens, channels, valueCount),
    ...locateValues(runs, height, width * channels + 1, channels, valueCount),
  };
}

const countOne = (counts: Uint32Array, symbol: number): void => {
  counts[symbol] = (counts[symbol] ?? 0) + 1;
};

function findBlocks(tokens: Uint32Array, channels: number, valueCount: number): readonly TokenBlock[] {
  const counter = new Uint32Array(valueCount);
  const blocks: TokenBlock[] = [];
  let at = 0;
  while (at < tokens.length) {
    const from = at;
    const lengths = new Uint32Array(LITERALS_AND_LENGTHS);
    const distances = new Uint32Array(DISTANCES);
    const values: number[] = [];
    while (at < tokens.length && at - from < BLOCK_TOKENS) {
      const token = tokens[at++] ?? 0;
      if (token < COPY) {
        if (counter[token] === 0) values.push(token);
        countOne(counter, token);
      } else if (token === ROW_START) {
        countOne(lengths, 0);
      } else {
        const { symbol } = distanceCode(tokens[at++] ?? 0);
        let bytes = (token - COPY) * channels;
        while (bytes > 0) {
          const length = nextCopy(bytes);
          countOne(lengths, lengthCode(length).symbol);
          countOne(distances, symbol);
          bytes -= length;
        }
      }
    }
    countOne(lengths, END_OF_BLOCK);
    const valueCounts = Uint32Array.from(values, (value) => counter[value] ?? 0);
    for (const value of values) counter[value] = 0;
    blocks.push({ from, to: at, values: Uint32Array.from(values), valueCounts, lengths, distances });
  }
  return blocks;
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
