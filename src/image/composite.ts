import { aColourway } from "../colour/checks.js";
import type { Colourway } from "../colour/types.js";
import { RepetendError } from "../errors.js";
import { inkPlanes, inksOfPlanes } from "./checks.js";
import { BARE, countMixes, type InkPlanes, type MixTable, type PlaneBand } from "./ink-planes.js";
import type { PixelImage } from "./pixels.js";

/** 1 GiB as RGBA: the largest picture that is made in one piece. */
const PIXEL_LIMIT = 2 ** 28;

/** Refuses pictures that are better made band by band. */
export function checkPixels({ width, height }: { readonly width: number; readonly height: number }): void {
  if (width * height <= PIXEL_LIMIT) return;
  throw new RepetendError("E_TOO_LARGE", "the picture is too large for one piece of memory", {
    value: `${width} x ${height} px`,
    accepted: `at most ${PIXEL_LIMIT} px in all`,
  });
}

/** The inks of planes as a colourway has them: those that it does not name stay as drawn. */
export function inksIn(planes: Pick<InkPlanes, "inks">, colourway: Colourway): readonly string[] {
  inksOfPlanes(planes, "planes");
  aColourway(colourway, "colourway");
  return planes.inks.map((ink) => colourway.inks[ink] ?? ink);
}

/** Whether bare cloth may show, so that pictures need an alpha channel. */
export function isBareSomewhere(planes: Pick<InkPlanes, "inks">): boolean {
  inksOfPlanes(planes, "planes");
  return planes.inks.includes(BARE);
}

/**
 * What every mix of a table looks like in these inks: RGBA, four bytes a mix, not premultiplied. Each channel is the
 * mean of the inks' sRGB values by weight, since that is how renderers mix.
 *
 * @param inks `#rrggbb`, or bare cloth, by place.
 */
export function mixColours(table: MixTable, inks: readonly string[]): Uint8Array {
  const channels = inks.map((ink) => [1, 3, 5].map((at) => Number.parseInt(ink.slice(at, at + 2), 16)));
  const bare = inks.indexOf(BARE);
  const colours = new Uint8Array(4 * countMixes(table));
  for (let mix = 0; mix < countMixes(table); mix++) {
    let [r, g, b, covered] = [0, 0, 0, 0];
    const end = table.starts[mix + 1] ?? 0;
    for (let part = table.starts[mix] ?? 0; part < end; part++) {
      const ink = table.inks[part] ?? 0;
      if (ink === bare) continue;
      const weight = table.weights[part] ?? 0;
      const [red = 0, green = 0, blue = 0] = channels[ink] ?? [];
      r += weight * red;
      g += weight * green;
      b += weight * blue;
      covered += weight;
    }
    if (covered === 0) continue;
    colours[4 * mix] = Math.round(r / covered);
    colours[4 * mix + 1] = Math.round(g / covered);
    colours[4 * mix + 2] = Math.round(b / covered);
    colours[4 * mix + 3] = covered;
  }
  return colours;
}

/** Rows of ink planes in these inks, RGBA. */
export function compositeBand(band: PlaneBand, inks: readonly string[]): PixelImage {
  const { width, height, rows, ends, mixes } = band;
  const colours = mixColours(band.table, inks);
  const words = new Uint32Array(colours.buffer);
  const pixels = new Uint32Array(width * height);
  for (let y = 0; y < height; y++) {
    let at = y * width;
    const row = at;
    const last = rows[y + 1] ?? 0;
    for (let run = rows[y] ?? 0; run < last; run++) {
      const word = words[mixes[run] ?? 0] ?? 0;
      const end = row + (ends[run] ?? 0);
      if (end - at < 16) while (at < end) pixels[at++] = word;
      else pixels.fill(word, at, end);
      at = end;
    }
  }
  return { width, height, channels: 4, data: new Uint8Array(pixels.buffer), stride: 4 * width };
}

/**
 * A colourway from ink planes: the sum of inks by weight at each pixel, with no renderer. It differs from rendering the
 * recoloured print by rounding only: at most 4 levels, and by more than 1 in fewer than 1 in 10,000 samples.
 *
 * @param colourway inks that it does not name stay as drawn.
 * @returns RGBA, not premultiplied; bare cloth is transparent.
 * @throws {@link RepetendError} E_TOO_LARGE above 2^28 pixels.
 *
 * @example
 * ```ts
 * import { colourway, composite, planesOfImage } from "repetend";
 * const image = { width: 2, height: 1, channels: 3, data: Uint8Array.of(0, 0, 0, 255, 255, 255), stride: 6 } as const;
 * const nightjar = composite(planesOfImage(image), colourway("Nightjar", { "#ffffff": "#1d1a26" }));
 * nightjar.data.slice(4); // Uint8Array.of(29, 26, 38, 255)
 * ```
 */
export function composite(planes: InkPlanes, colourway: Colourway): PixelImage {
  inkPlanes(planes, "planes");
  aColourway(colourway, "colourway");
  checkPixels(planes);
  const { width, height, dpi } = planes;
  const data = new Uint8Array(4 * width * height);
  for (const band of planes.bands)
    data.set(compositeBand(band, inksIn(planes, colourway)).data, 4 * width * band.y);
  return { width, height, channels: 4, data, stride: 4 * width, ...(dpi === undefined ? {} : { dpi }) };
}
