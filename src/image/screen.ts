import { aNumber, bytes, partsOf } from "../checks.js";
import { RepetendError } from "../errors.js";
import { aCount, anImage, aScreenKind } from "./checks.js";
import type { PixelImage } from "./pixels.js";

/** How tones become dots: in a regular grid, or without any order the eye could find. */
export type ScreenKind = "ordered" | "blue-noise";

/** A square of thresholds that joins at its edges: how many levels of a tone switch its pixel on. */
export interface Screen {
  readonly side: number;
  /** 0 to 254, every one about equally often: a pixel of a higher level is on. */
  readonly thresholds: Uint8Array;
}

const rankToThreshold = (rank: number, count: number): number => Math.floor((rank * 255) / count);

/** The recursive grid of B. E. Bayer, "An optimum method for two-level rendition of continuous-tone pictures", 1973. */
function orderedScreen(): Screen {
  const side = 16;
  const thresholds = new Uint8Array(side * side);
  for (let y = 0; y < side; y++) {
    for (let x = 0; x < side; x++) {
      let rank = 0;
      for (let bit = 0; bit < 4; bit++) {
        const [across, down] = [(x >> bit) & 1, (y >> bit) & 1];
        rank |= (((across ^ down) << 1) | down) << (2 * (3 - bit));
      }
      thresholds[y * side + x] = rankToThreshold(rank, side * side);
    }
  }
  return { side, thresholds };
}

const SIDE = 64;
const CELLS = SIDE * SIDE;

/** The influence of a dot on its surroundings: a Gaussian of 1.5 pixels, over the joined edges. */
function influence(): Float64Array {
  const values = new Float64Array(CELLS);
  for (let at = 0; at < CELLS; at++) {
    const [x, y] = [at % SIDE, Math.floor(at / SIDE)];
    const [dx, dy] = [Math.min(x, SIDE - x), Math.min(y, SIDE - y)];
    values[at] = Math.exp(-(dx * dx + dy * dy) / (2 * 1.5 * 1.5));
  }
  return values;
}

/** Dots on the joined square, and how crowded each place is. */
class Dots {
  readonly on: Uint8Array = new Uint8Array(CELLS);
  readonly #crowd = new Float64Array(CELLS);
  readonly #influence = influence();

  set(at: number, on: 0 | 1): void {
    this.on[at] = on;
    const sign = on === 1 ? 1 : -1;
    const [x, y] = [at % SIDE, Math.floor(at / SIDE)];
    for (let row = 0; row < SIDE; row++) {
      const from = ((row - y + SIDE) % SIDE) * SIDE;
      for (let column = 0; column < SIDE; column++) {
        const place = row * SIDE + column;
        this.#crowd[place] =
          (this.#crowd[place] as number) +
          sign * (this.#influence[from + ((column - x + SIDE) % SIDE)] as number);
      }
    }
  }

  /** The most crowded dot, or the emptiest place without one. */
  find(on: 0 | 1): number {
    let best = -1;
    for (let at = 0; at < CELLS; at++) {
      if (this.on[at] !== on) continue;
      const crowd = this.#crowd[at] as number;
      const known = best < 0 ? 0 : (this.#crowd[best] as number);
      if (best < 0 || (on === 1 ? crowd > known : crowd < known)) best = at;
    }
    return best;
  }
}

/**
 * Blue noise by the method of R. A. Ulichney, "The void-and-cluster method for dither array generation", Proc. SPIE
 * 1913, 1993: dots are ranked by taking away the most crowded one after the other, and by filling the emptiest places.
 */
function blueNoiseScreen(): Screen {
  const dots = new Dots();
  let seed = 1;
  const first = CELLS / 10;
  for (let count = 0; count < first; ) {
    seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
    const at = seed >>> 20;
    if (dots.on[at] === 1) continue;
    dots.set(at, 1);
    count++;
  }
  for (;;) {
    const crowded = dots.find(1);
    dots.set(crowded, 0);
    const empty = dots.find(0);
    dots.set(empty, 1);
    if (empty === crowded) break;
  }
  const prototype = dots.on.slice();
  const ranks = new Uint16Array(CELLS);
  const count = prototype.reduce((all, on) => all + on, 0);
  for (let rank = count - 1; rank >= 0; rank--) {
    const crowded = dots.find(1);
    dots.set(crowded, 0);
    ranks[crowded] = rank;
  }
  for (const [at, on] of prototype.entries()) if (on === 1) dots.set(at, 1);
  for (let rank = count; rank < CELLS; rank++) {
    const empty = dots.find(0);
    dots.set(empty, 1);
    ranks[empty] = rank;
  }
  return { side: SIDE, thresholds: Uint8Array.from(ranks, (rank) => rankToThreshold(rank, CELLS)) };
}

/** Makes a screen; the same one every time. */
export function makeScreen(kind: ScreenKind): Screen {
  aScreenKind(kind, "kind");
  switch (kind) {
    case "ordered":
      return orderedScreen();
    case "blue-noise":
      return blueNoiseScreen();
  }
}

/** Places of a screen along one side of the repeat: a whole number of screens, so that they join at the seam. */
function stretch(length: number, side: number): Uint16Array {
  const places = Math.max(1, Math.round(length / side)) * side;
  return Uint16Array.from({ length }, (_, at) => Math.floor((at * places) / length) % side);
}

/**
 * Turns tones into dots: 255 where a level is above the screen's threshold, else 0. A whole number of screens is fitted
 * into the repeat on each side (a column or row is left out or doubled now and then), so that no seam shows.
 *
 * @param rows one channel, whole rows of a repeat.
 * @param place the first row's place in the repeat, and the repeat's height in pixels.
 * @throws {@link RepetendError} E_IMAGE for a picture that has not one channel.
 */
export function screenRows(
  rows: PixelImage,
  screen: Screen,
  place: { readonly y: number; readonly height: number },
): PixelImage {
  anImage(rows, "rows");
  partsOf<Screen>({ side: aCount, thresholds: bytes })(screen, "screen");
  partsOf<typeof place>({ y: aNumber, height: aCount })(place, "place");
  const { width, height, stride, data, channels } = rows;
  if (channels !== 1) {
    throw new RepetendError("E_IMAGE", "only one ink at a time is screened", {
      value: `${channels} channels`,
      accepted: "1 channel",
    });
  }
  const across = stretch(width, screen.side);
  const down = stretch(place.height, screen.side);
  const dots = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    const line = (down[place.y + y] ?? 0) * screen.side;
    for (let x = 0; x < width; x++) {
      const threshold = screen.thresholds[line + (across[x] as number)] as number;
      if ((data[y * stride + x] as number) > threshold) dots[y * width + x] = 255;
    }
  }
  return { ...rows, data: dots, stride: width };
}
