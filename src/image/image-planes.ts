import { aText, listOf, maybe, partsOf } from "../checks.js";
import { readInk } from "../colour/index.js";
import { RepetendError } from "../errors.js";
import { anImage } from "./checks.js";
import { BARE, type InkPlanes } from "./ink-planes.js";
import { FULL, MixCollector } from "./mixes.js";
import type { PixelImage } from "./pixels.js";
import { RunWriter } from "./runs.js";

/** How inks are found in a picture. */
export interface ImagePlanesOptions {
  /** The picture's inks where they are known: opaque CSS colours, or {@link BARE}. Default: found by the areas they fill. */
  readonly inks?: readonly string[];
}

/** More inks than this are no flat artwork. */
const MOST_INKS = 256;

/** A colour is an ink where at least so many pixels have it on all four sides too, or a picture has few colours. */
const LEAST_INNER = 4;

/** A colour as one number: red, green, blue, and alpha lowest. */
function readPixels({ width, height, channels, data, stride }: PixelImage): Uint32Array {
  const pixels = new Uint32Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const at = y * stride + x * channels;
      const r = data[at] ?? 0;
      const g = channels === 1 ? r : (data[at + 1] ?? 0);
      const b = channels === 1 ? r : (data[at + 2] ?? 0);
      const alpha = channels === 4 ? (data[at + 3] ?? 0) : FULL;
      pixels[y * width + x] = alpha === 0 ? 0 : ((r << 24) | (g << 16) | (b << 8) | alpha) >>> 0;
    }
  }
  return pixels;
}

const hexOf = (colour: number): string =>
  colour === 0
    ? BARE
    : `#${Math.floor(colour / 256)
        .toString(16)
        .padStart(6, "0")}`;

const colourOf = (ink: string): number => (ink === BARE ? 0 : Number.parseInt(`${ink.slice(1)}ff`, 16));

/** How many pixels have each colour, and how many of them have it all around; the picture joins at its edges. */
function countColours(pixels: Uint32Array, width: number, height: number) {
  const counts = new Map<number, { all: number; inner: number }>();
  for (let y = 0; y < height; y++) {
    const [above, below] = [((y + height - 1) % height) * width, ((y + 1) % height) * width];
    for (let x = 0; x < width; x++) {
      const colour = pixels[y * width + x] ?? 0;
      const isInner =
        pixels[above + x] === colour &&
        pixels[below + x] === colour &&
        pixels[y * width + ((x + 1) % width)] === colour &&
        pixels[y * width + ((x + width - 1) % width)] === colour;
      const count = counts.get(colour);
      if (count === undefined) counts.set(colour, { all: 1, inner: isInner ? 1 : 0 });
      else {
        count.all++;
        if (isInner) count.inner++;
      }
    }
  }
  return counts;
}

/** Red, green, blue and cover, the colours by the cover, so that mixing with bare cloth is a straight line too. */
const premultiply = (colour: number): readonly [number, number, number, number] => {
  const alpha = colour % 256;
  const share = alpha / FULL;
  return [(colour >>> 24) * share, ((colour >>> 16) & 255) * share, ((colour >>> 8) & 255) * share, alpha];
};

type Vector = ReturnType<typeof premultiply>;

const subtract = (one: Vector, other: Vector): Vector => [
  one[0] - other[0],
  one[1] - other[1],
  one[2] - other[2],
  one[3] - other[3],
];
const dot = (one: Vector, other: Vector): number =>
  one[0] * other[0] + one[1] * other[1] + one[2] * other[2] + one[3] * other[3];

/**
 * The two inks between which a colour lies, and how far: the pair whose straight line passes nearest. Where two pairs
 * pass as near, the one of nearer inks.
 */
function unmix(
  colour: number,
  inks: readonly Vector[],
): { readonly from: number; readonly to: number; readonly weight: number; readonly miss: number } {
  const wanted = premultiply(colour);
  let best = { from: 0, to: 0, weight: 0, miss: 0, cost: Number.POSITIVE_INFINITY };
  for (const [from, start] of inks.entries()) {
    const offset = subtract(wanted, start);
    for (let to = from; to < inks.length; to++) {
      const along = subtract(inks[to] as Vector, start);
      const length = dot(along, along);
      const share = length === 0 ? 0 : Math.min(1, Math.max(0, dot(offset, along) / length));
      const off = subtract(offset, [along[0] * share, along[1] * share, along[2] * share, along[3] * share]);
      // A line that passes nearer by less than a rounding does not outweigh one between nearer inks.
      const miss = dot(off, off);
      const cost = miss + 1e-3 * Math.sqrt(length);
      if (cost < best.cost) best = { from, to, weight: Math.round(share * FULL), miss, cost };
    }
  }
  return best;
}

/** So few colours may all be inks, whatever they fill: small pictures have no areas. */
const FEW_COLOURS = 16;

/** Levels by which a colour may miss the line between two inks and still be their mix, squared: a rounding a channel. */
const ON_THE_LINE = 4;

function findInks(pixels: Uint32Array, width: number, height: number): readonly number[] {
  const counts = [...countColours(pixels, width, height)]
    .filter(([colour]) => colour === 0 || colour % 256 === FULL)
    .sort((one, other) => other[1].all - one[1].all || one[0] - other[0]);
  const inks = counts.filter(([, { inner }]) => inner >= LEAST_INNER).map(([colour]) => colour);
  for (const [colour] of counts.length <= FEW_COLOURS ? counts : []) {
    const isMix = inks.length > 1 && unmix(colour, inks.map(premultiply)).miss <= ON_THE_LINE;
    if (!inks.includes(colour) && !isMix) inks.push(colour);
  }
  if (inks.length > 0 && inks.length <= MOST_INKS) return inks;
  throw new RepetendError("E_LIMIT", "this picture is no flat artwork: its inks cannot be told", {
    value: `${inks.length} solid colours`,
    accepted: `1 to ${MOST_INKS} colours that fill areas`,
  });
}

/** Inks as they are named, each once. */
function readInks(named: readonly string[]): readonly number[] {
  const inks = new Set(named.map((ink) => (ink === BARE ? BARE : readInk(ink, "options.inks"))));
  if (inks.size > 0 && inks.size <= MOST_INKS) return [...inks].map(colourOf);
  throw new RepetendError("E_LIMIT", "a picture has some inks, and not more than can be told", {
    where: "options.inks",
    value: `${inks.size} inks`,
    accepted: `1 to ${MOST_INKS}`,
  });
}

/**
 * The ink planes of a flat picture: its inks are the colours that fill areas; every other colour is taken as a mix of
 * the two inks between which it lies, as an anti-aliased edge is. With its planes a picture is recoloured, separated and
 * measured as a print is. Transparent pixels are bare cloth.
 *
 * @throws {@link RepetendError} E_LIMIT for a picture that is no flat artwork (no solid colours, or more than 256), and
 * for as few or many `inks`; E_COLOUR for an ink that cannot be read.
 *
 * @example
 * ```ts
 * import { planesOfImage } from "repetend";
 * const image = { width: 2, height: 1, channels: 3, data: Uint8Array.of(0, 0, 0, 255, 255, 255), stride: 6 } as const;
 * planesOfImage(image).inks; // ["#000000", "#ffffff"]
 * ```
 */
export function planesOfImage(image: PixelImage, options: ImagePlanesOptions = {}): InkPlanes {
  anImage(image, "image");
  partsOf<ImagePlanesOptions>({ inks: maybe(listOf(aText)) })(options, "options");
  const { width, height, dpi } = image;
  const pixels = readPixels(image);
  const inks = options.inks === undefined ? findInks(pixels, width, height) : readInks(options.inks);
  const vectors = inks.map(premultiply);
  const collector = new MixCollector();
  const known = new Map<number, number>(inks.map((ink, place) => [ink, collector.add([place], [FULL])]));
  let isPure = true;
  const mixOf = (colour: number): number => {
    const { from, to, weight } = unmix(colour, vectors);
    if (weight === 0) return collector.add([from], [FULL]);
    if (weight === FULL) return collector.add([to], [FULL]);
    isPure = false;
    return collector.add([from, to], [FULL - weight, weight]);
  };
  const writer = new RunWriter();
  for (let y = 0; y < height; y++) {
    writer.startRow();
    for (let x = 0; x < width; x++) {
      const colour = pixels[y * width + x] ?? 0;
      const mix = known.get(colour) ?? mixOf(colour);
      known.set(colour, mix);
      writer.push(mix, x + 1);
    }
  }
  const { rows, ends, values } = writer.finish();
  return {
    kind: "ink-planes",
    edges: isPure ? "hard" : "soft",
    width,
    height,
    ...(dpi === undefined ? {} : { dpi }),
    inks: inks.map(hexOf),
    bands: [{ y: 0, width, height, rows, ends, mixes: values, table: collector.table() }],
  };
}
