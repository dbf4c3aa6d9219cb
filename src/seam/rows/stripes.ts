import type { PixelImage } from "../../image/index.js";
import { pixelDifference, readStrip, type SeamPlace, type Strip } from "../strip/strip.js";

/** What the stripes of a print say about its edge. */
export type StripeVerdict = "closed" | "size" | "gap" | "colour";

const SAME_COLOUR = 2.5;

/** A line at the edge that is no wider than this and stands nowhere else is no stripe, in pixels. */
const WIDEST_GAP = 3;

/** Tells whether every column of the strip is of one colour from end to end. */
function isEven(strip: Strip): boolean {
  const columns = 2 * strip.half;
  for (let t = 1; t < strip.length; t++)
    for (let column = 0; column < columns; column++)
      if (pixelDifference(strip, t * columns + column, column) > SAME_COLOUR) return false;
  return true;
}

/** Rows that are read all across the picture. */
const SAMPLES = 16;

/** Some rows of the picture from edge to edge, as a strip whose rows are spread over the seam's length. */
function readAcross(image: PixelImage, place: SeamPlace): Strip {
  const byColumns = place.edge === "left-right";
  const [length, depth] = byColumns ? [image.height, image.width] : [image.width, image.height];
  const count = Math.min(SAMPLES, length);
  const step = Math.floor(length / count);
  const sampled: PixelImage = byColumns
    ? { ...image, height: count, stride: image.stride * step }
    : pickColumns(image, count, step);
  // The far half of a strip begins at the picture's first column: half the depth on each side is the whole picture.
  return readStrip(sampled, { ...place, offset: 0 }, Math.floor(depth / 2));
}

function pickColumns(image: PixelImage, count: number, step: number): PixelImage {
  const { height, channels } = image;
  const data = new Uint8Array(count * height * channels);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < count; x++)
      for (let i = 0; i < channels; i++)
        data[(y * count + x) * channels + i] = image.data[
          y * image.stride + x * step * channels + i
        ] as number;
  return { width: count, height, channels, data, stride: count * channels };
}

/** Runs of one colour across the picture, beginning behind the seam. */
interface Stripe {
  readonly pixel: number;
  readonly width: number;
}

function listStripes(across: Strip): readonly Stripe[] {
  const columns = 2 * across.half;
  const stripes: { pixel: number; width: number }[] = [];
  for (let k = 0; k < columns; k++) {
    const pixel = (across.half + k) % columns;
    const last = stripes.at(-1);
    if (last && pixelDifference(across, last.pixel, pixel) <= SAME_COLOUR) last.width++;
    else stripes.push({ pixel, width: 1 });
  }
  return stripes;
}

/** The smallest number of stripes after which all repeat, the first and the last, which the edges cut, aside. */
function countPeriod(across: Strip, stripes: readonly Stripe[]): number | undefined {
  const inner = stripes.slice(1, -1);
  for (let period = 1; 2 * period <= inner.length; period++) {
    const repeats = inner.every((stripe, i) => {
      const next = inner[i + period];
      return (
        next === undefined ||
        (Math.abs(next.width - stripe.width) <= 1 &&
          pixelDifference(across, next.pixel, stripe.pixel) <= SAME_COLOUR)
      );
    });
    if (repeats) return period;
  }
  return undefined;
}

/**
 * Judges a seam along which nothing changes: stripes parallel to it, or a plain edge. What meets there cannot show by itself
 * whether it should, so the stripes inside are asked: do they repeat, and a whole number of times? `undefined` where the
 * edge is not even.
 */
export function judgeStripes(image: PixelImage, place: SeamPlace, strip: Strip): StripeVerdict | undefined {
  if (!isEven(strip)) return undefined;
  const seam = pixelDifference(strip, strip.half - 1, strip.half);
  const across = readAcross(image, place);
  const stripes = listStripes(across);
  const [first, last] = [stripes[0], stripes.at(-1)];
  if (first === undefined || last === undefined || stripes.length === 1) return "closed";
  const narrow = [first, last].find(
    (stripe) =>
      stripe.width <= WIDEST_GAP &&
      seam > SAME_COLOUR &&
      !stripes
        .slice(1, -1)
        .some(
          (other) =>
            other.width <= 2 * WIDEST_GAP &&
            pixelDifference(across, other.pixel, stripe.pixel) <= SAME_COLOUR,
        ),
  );
  const isWhole = isEven(across);
  if (narrow && pixelDifference(across, last.pixel, first.pixel) > SAME_COLOUR) {
    const beyond = narrow === first ? stripes[1] : stripes.at(-2);
    const other = narrow === first ? last : first;
    if (beyond && pixelDifference(across, beyond.pixel, other.pixel) <= SAME_COLOUR) return "gap";
  }
  if (isWhole) {
    const period = countPeriod(across, stripes);
    if (period === undefined) return "closed";
    const inner = stripes.slice(1, 1 + period).reduce((sum, stripe) => sum + stripe.width, 0);
    const depth = 2 * across.half;
    const rest = depth % inner;
    // Rounding of each stripe's width may add up to a pixel a repeat.
    return Math.min(rest, inner - rest) <= Math.min(1, Math.floor(depth / inner) / 4) ? "closed" : "size";
  }
  if (seam <= SAME_COLOUR) return "closed";
  return hasBoundary(across) ? "closed" : "colour";
}

/** Tells whether the two colours that meet at the seam meet elsewhere too, along a line from end to end. */
function hasBoundary(across: Strip): boolean {
  const columns = 2 * across.half;
  const near = across.half - 1;
  const far = across.half;
  for (let column = 0; column + 1 < columns; column++) {
    if (column === near) continue;
    let holds = true;
    for (let t = 0; t < across.length && holds; t++) {
      const [one, other] = [t * columns + column, t * columns + column + 1];
      const same =
        pixelDifference(across, one, near) <= SAME_COLOUR &&
        pixelDifference(across, other, far) <= SAME_COLOUR;
      const turned =
        pixelDifference(across, one, far) <= SAME_COLOUR &&
        pixelDifference(across, other, near) <= SAME_COLOUR;
      holds = same || turned;
    }
    if (holds) return true;
  }
  return false;
}
