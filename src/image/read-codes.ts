import { aCount } from "./checks.js";
import type { PlaneBand } from "./ink-planes.js";
import { FULL, MixCollector } from "./mixes.js";
import type { PixelImage } from "./pixels.js";
import { RunWriter } from "./runs.js";
import { wordsOf } from "./words.js";

/**
 * A colour for each ink by which it is known again in a rendering without anti-aliasing. The step is odd, so that no
 * two are alike, and large, so that a mix of inks is hardly ever the colour of a third.
 */
export function codeColours(count: number): readonly string[] {
  aCount(count, "count");
  return Array.from({ length: count }, (_, place) => {
    const code = Math.imul(place + 1, 0x9e3779) & 0xffffff;
    return `#${code.toString(16).padStart(6, "0")}`;
  });
}

/**
 * The band of a rendering in which every ink has a colour of its own; `undefined` when a pixel has any other colour.
 *
 * @param codes for each colour, `#rrggbb`, the place of its ink.
 */
export function readCodes(
  image: PixelImage,
  codes: ReadonlyMap<string, number>,
  y: number,
): PlaneBand | undefined {
  const { width, height } = image;
  const { words, stride } = wordsOf(image);
  const collector = new MixCollector();
  const places = new Map<number, number>();
  for (const [colour, ink] of codes) {
    const bytes = [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16));
    const [word = 0] = new Uint32Array(Uint8Array.of(...bytes, FULL).buffer);
    places.set(word, collector.add([ink], [FULL]));
  }
  const writer = new RunWriter();
  for (let row = 0; row < height; row++) {
    writer.startRow();
    const base = row * stride;
    let x = 0;
    while (x < width) {
      const word = words[base + x] as number;
      x++;
      while (x < width && words[base + x] === word) x++;
      const place = places.get(word);
      if (place === undefined) return undefined;
      writer.push(place, x);
    }
  }
  const runs = writer.finish();
  return { y, width, height, rows: runs.rows, ends: runs.ends, mixes: runs.values, table: collector.table() };
}
