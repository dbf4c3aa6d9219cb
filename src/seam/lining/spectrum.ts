import { powerOfTwo, transformPlane } from "../fft.js";
import { type LabPicture, resizePicture } from "../find-repeat/picture.js";

/** The Fourier coefficients of one plane of a tile. */
export interface Spectrum {
  /** Coefficients at `across` periods to the tile's width and `down` to its height. */
  readonly at: (across: number, down: number) => { readonly re: number; readonly im: number };
}

/** More pixels than this a side only add detail that the blur takes away again. */
const MOST_SIDE = 256;

/** Whole numbers of periods up to this are known without a quarter of aliasing. */
export const MOST_PERIODS = 24;

/** The spectra of L*, a* and b*: a tile is a torus, so that its coefficients are those of the endless cloth. */
export function takeSpectra(picture: LabPicture): readonly Spectrum[] {
  const side = (pixels: number) => Math.min(MOST_SIDE, powerOfTwo(pixels));
  const [width, height] = [side(picture.width), side(picture.height)];
  const { planes } = resizePicture(picture, width, height);
  return planes.slice(0, 3).map((plane) => {
    const data = new Float64Array(2 * width * height);
    for (let at = 0; at < plane.length; at++) data[2 * at] = (plane[at] as number) / plane.length;
    transformPlane({ width, height, data }, false);
    return {
      at: (across, down) => {
        const x = ((across % width) + width) % width;
        const y = ((down % height) + height) % height;
        const from = 2 * (y * width + x);
        // Pixel 0 stands for its middle, half a pixel on from the tile's corner.
        const turn = -Math.PI * (across / width + down / height);
        const [re, im] = [data[from] as number, data[from + 1] as number];
        return {
          re: re * Math.cos(turn) - im * Math.sin(turn),
          im: re * Math.sin(turn) + im * Math.cos(turn),
        };
      },
    };
  });
}

/** One degree of the visual field at a distance in metres, in mm. */
export function degreeAt(distance: number): number {
  return distance * 1000 * Math.tan(Math.PI / 180);
}

/**
 * At so many periods a degree half of a pattern's strength is left. The eye is keenest for lightness at about 3 to 5 periods a degree
 * and loses beyond (Campbell and Robson, "Application of Fourier analysis to the visibility of gratings", Journal of
 * Physiology 197 (1968), from memory); for colour it loses from about 1 on (Mullen, "The contrast sensitivity of human colour vision",
 * Journal of Physiology 359 (1985), from memory). Below that nothing is taken off, since broad bars are just what is looked for.
 */
const HALF_LEFT = { lightness: 4, chroma: 1.5 } as const;

/** What the blur of a distance leaves of a pattern, 0 to 1: a Gaussian. `frequency` in periods a mm. */
export function leftOf(frequency: number, distance: number, channel: "lightness" | "chroma"): number {
  const periods = frequency * degreeAt(distance);
  return 0.5 ** ((periods / HALF_LEFT[channel]) ** 2);
}
