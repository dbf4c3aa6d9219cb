import { RepetendError } from "../errors.js";
import type { PlaneBand } from "./ink-planes.js";
import { balanceWeights, FULL, MixCollector } from "./mixes.js";
import { PairPlaces } from "./pair-places.js";
import type { PixelImage } from "./pixels.js";
import { mapRuns, type RunRows, RunWriter } from "./runs.js";
import { wordsOf } from "./words.js";

/** A rendering in which three inks are pure red, green and blue, and all others black. */
export interface InkRender {
  /** Opaque RGBA. */
  readonly image: PixelImage;
  /** Places of the inks that are red, green and blue; up to three. */
  readonly inks: readonly number[];
}

/**
 * What a derived ink must have to be believed: a weight of 1 may be the others' rounding, and is given to the largest
 * of them.
 */
const LEAST_DERIVED = 2;

/** Rounding of many layers over each other stays far below this; more is paint that is none of the inks. */
const MOST_LACKING = 32;

/** Puts renderings of one band together to its ink plane band, one rendering after the other, so that none is kept. */
export class BandWeigher {
  readonly #width: number;
  readonly #height: number;
  #runs: RunRows;
  readonly #steps: { readonly pairs: PairPlaces; readonly inks: readonly number[] }[] = [];

  constructor(width: number, height: number) {
    this.#width = width;
    this.#height = height;
    const rows = Uint32Array.from({ length: height + 1 }, (_, row) => row);
    this.#runs = { rows, ends: new Uint32Array(height).fill(width), values: new Uint32Array(height) };
  }

  /**
   * Takes a rendering in: every run is split where the rendering's pixels differ.
   *
   * @throws {@link RepetendError} E_IMAGE for a picture of another size or without four channels.
   */
  add({ image, inks }: InkRender): void {
    if (image.width !== this.#width || image.height !== this.#height || image.channels !== 4) {
      throw new RepetendError("E_IMAGE", "a rendering does not fit its band", {
        value: `${image.width} x ${image.height}, ${image.channels} channels`,
        accepted: `${this.#width} x ${this.#height}, 4 channels`,
      });
    }
    const pairs = new PairPlaces();
    const { words, stride } = wordsOf(image);
    const { rows, ends, values } = this.#runs;
    const writer = new RunWriter();
    let [lastValue, lastWord, lastPlace] = [-1, 0, 0];
    for (let y = 0; y < this.#height; y++) {
      writer.startRow();
      const base = y * stride;
      const lastRun = rows[y + 1] ?? 0;
      let x = 0;
      for (let run = rows[y] ?? 0; run < lastRun; run++) {
        const value = values[run] ?? 0;
        const end = ends[run] ?? 0;
        while (x < end) {
          const word = words[base + x] as number;
          x++;
          while (x < end && words[base + x] === word) x++;
          if (value !== lastValue || word !== lastWord) {
            [lastValue, lastWord, lastPlace] = [value, word, pairs.place(value, word)];
          }
          writer.push(lastPlace, x);
        }
      }
    }
    this.#runs = writer.finish();
    this.#steps.push({ pairs, inks });
  }

  /**
   * The band, once all renderings are in.
   *
   * @param y the band's first row in the whole.
   * @param derived the place of the one ink that was not rendered: it has what the others leave of 255.
   * @throws {@link RepetendError} E_RENDER when the renderings show paint that is none of the inks.
   */
  finish(y: number, derived?: number): PlaneBand {
    const count = this.#steps.at(-1)?.pairs.count ?? 1;
    const steps = [...this.#steps].reverse().map((step) => ({ ...step, bytes: step.pairs.otherBytes() }));
    const collector = new MixCollector();
    const places = new Uint32Array(count);
    for (let place = 0; place < count; place++) {
      const found: { ink: number; weight: number }[] = [];
      let at = place;
      let left = FULL;
      for (const { pairs, inks, bytes } of steps) {
        for (let channel = 0; channel < inks.length; channel++) {
          const weight = bytes[4 * at + channel] ?? 0;
          left -= weight;
          if (weight > 0) found.push({ ink: inks[channel] ?? 0, weight });
        }
        at = pairs.one(at);
      }
      if (derived !== undefined && (left >= LEAST_DERIVED || found.length === 0)) {
        found.push({ ink: derived, weight: left });
      } else if (Math.abs(left) > MOST_LACKING) {
        throw new RepetendError("E_RENDER", "the inks of a print do not add up to what it paints", {
          value: `${FULL - left} of ${FULL}`,
        });
      }
      found.sort((one, other) => one.ink - other.ink);
      const mix = balanceWeights(
        found.map(({ ink }) => ink),
        found.map(({ weight }) => weight),
      );
      places[place] = collector.add(mix.inks, mix.weights);
    }
    const runs = mapRuns(this.#runs, this.#height, places);
    return {
      y,
      width: this.#width,
      height: this.#height,
      rows: runs.rows,
      ends: runs.ends,
      mixes: runs.values,
      table: collector.table(),
    };
  }
}
