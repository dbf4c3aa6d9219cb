import type { PixelImage } from "../../../src/image/index.js";
import { seeded } from "../../seeded.fixture.js";

const blank = (width: number, height: number): { -readonly [K in keyof PixelImage]: PixelImage[K] } => ({
  width,
  height,
  channels: 3,
  data: new Uint8Array(3 * width * height),
  stride: 3 * width,
});

/** One colour. */
export function plainGround(width: number, height: number): PixelImage {
  const image = blank(width, height);
  for (let i = 0; i < width * height; i++) image.data.set([242, 234, 216], 3 * i);
  return image;
}

/** White noise: every pixel by itself, so that no edge can be told from any other place. */
export function whiteNoise(width: number, height: number, seed: number): PixelImage {
  const random = seeded(seed);
  const image = blank(width, height);
  for (let i = 0; i < image.data.length; i++) image.data[i] = Math.floor(256 * random());
  return image;
}

const INKS = [
  [27, 42, 65],
  [242, 234, 216],
  [201, 88, 60],
  [120, 150, 130],
];

/** Straight stripes of several inks; `turned` lays them along x. The picture is `repeats` times the stripes' repeat. */
export function stripes(
  width: number,
  height: number,
  turned: boolean,
  widths: readonly number[],
): PixelImage {
  const image = blank(width, height);
  const repeat = widths.reduce((sum, one) => sum + one, 0);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      let at = (turned ? y : x) % repeat;
      let ink = 0;
      while (at >= (widths[ink] as number)) at -= widths[ink++] as number;
      image.data.set(INKS[ink] as number[], 3 * (y * width + x));
    }
  return image;
}

/**
 * A picture with the statistics of a photograph: amplitudes that fall with the frequency (D. J. Field, "Relations between
 * the statistics of natural images and the response properties of cortical cells", J. Opt. Soc. Am. A 4, 1987), and a
 * little sensor noise. With `closes` all waves fit into the picture.
 */
export function photograph(width: number, height: number, seed: number, closes: boolean): PixelImage {
  const random = seeded(seed);
  const waves = Array.from({ length: 160 }, () => {
    const frequency = 2 ** (6 * random());
    const angle = 2 * Math.PI * random();
    const [fx, fy] = [frequency * Math.cos(angle), frequency * Math.sin(angle)];
    return {
      fx: closes ? Math.round(fx) : fx * 0.83,
      fy: closes ? Math.round(fy) : fy * 0.83,
      phase: 2 * Math.PI * random(),
      weights: [0, 1, 2].map(() => (0.6 + 0.4 * random()) / frequency),
    };
  });
  const image = blank(width, height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const sum = [128, 120, 110];
      for (const { fx, fy, phase, weights } of waves) {
        const wave = Math.cos(2 * Math.PI * ((fx * x) / width + (fy * y) / height) + phase);
        for (const [i, weight] of weights.entries()) sum[i] = (sum[i] as number) + 60 * weight * wave;
      }
      for (const [i, value] of sum.entries())
        image.data[3 * (y * width + x) + i] = Math.max(
          0,
          Math.min(255, Math.round(value + 6 * (random() - 0.5))),
        );
    }
  return image;
}

/** The picture without its last columns and rows. */
export function crop(image: PixelImage, columns: number, rows: number): PixelImage {
  return { ...image, width: image.width - columns, height: image.height - rows };
}
