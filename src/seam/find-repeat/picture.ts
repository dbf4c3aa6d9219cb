import { RepetendError } from "../../errors.js";
import type { PixelImage } from "../../image/index.js";
import { writeLab } from "../strip/lab.js";

/**
 * A picture in CIE Lab and opacity (0 to 100), each a plane of its own. One of its pixels is `scaleX` x `scaleY` pixels of the image that it was read from.
 */
export interface LabPicture {
  readonly width: number;
  readonly height: number;
  readonly planes: readonly Float32Array[];
  readonly scaleX: number;
  readonly scaleY: number;
}

/** Sides shorter than this many pixels are too short to tell a repeat. */
const LEAST_SIDE = 16;

const onWhite = (level: number, alpha: number): number =>
  alpha === 255 ? level : Math.round((level * alpha + 255 * (255 - alpha)) / 255);

/**
 * Reads an image; one above `most` pixels in all is averaged over squares of whole pixels first. What is transparent shows
 * white, as bare cloth.
 *
 * @throws {@link RepetendError} `E_IMAGE` for a buffer that is too short, or an image under 16 px.
 */
export function readLabPicture(image: PixelImage, most: number): LabPicture {
  const { width, height, channels, stride, data } = image;
  const fits = stride >= width * channels && data.length >= stride * (height - 1) + width * channels;
  if (!(width >= LEAST_SIDE && height >= LEAST_SIDE && fits)) {
    throw new RepetendError(
      "E_IMAGE",
      "a picture is too small, or its buffer too short, to look for a repeat",
      {
        value: `${width} x ${height} px, ${data.length} bytes`,
        accepted: `${LEAST_SIDE} px or more each way, stride * height bytes`,
      },
    );
  }
  const factor = Math.max(1, Math.ceil(Math.sqrt((width * height) / most)));
  const [across, down] = [Math.floor(width / factor), Math.floor(height / factor)];
  const planes = Array.from({ length: 4 }, () => new Float32Array(across * down));
  const [lightness, green, blue, opacity] = planes as [
    Float32Array,
    Float32Array,
    Float32Array,
    Float32Array,
  ];
  const lab = new Float32Array(3);
  const share = 1 / (factor * factor);
  for (let y = 0; y < down * factor; y++)
    for (let x = 0; x < across * factor; x++) {
      const from = y * stride + x * channels;
      const r = data[from] as number;
      const g = channels === 1 ? r : (data[from + 1] as number);
      const b = channels === 1 ? r : (data[from + 2] as number);
      const alpha = channels === 4 ? (data[from + 3] as number) : 255;
      writeLab(onWhite(r, alpha), onWhite(g, alpha), onWhite(b, alpha), lab, 0);
      const at = Math.floor(y / factor) * across + Math.floor(x / factor);
      lightness[at] = (lightness[at] as number) + (lab[0] as number) * share;
      green[at] = (green[at] as number) + (lab[1] as number) * share;
      blue[at] = (blue[at] as number) + (lab[2] as number) * share;
      opacity[at] = (opacity[at] as number) + (alpha / 2.55) * share;
    }
  return { width: across, height: down, planes, scaleX: factor, scaleY: factor };
}

/** One axis of an area average: `from` samples to `to`, each new one the mean of the stretch that it covers. */
function shrinkLines(
  plane: Float32Array,
  lines: number,
  from: number,
  to: number,
  step: number,
  stride: number,
  intoStep: number,
  intoStride: number,
): Float32Array {
  const into = new Float32Array(lines * to);
  const size = from / to;
  for (let line = 0; line < lines; line++)
    for (let k = 0; k < to; k++) {
      const [low, high] = [k * size, Math.min(from, (k + 1) * size)];
      let sum = 0;
      for (let at = Math.floor(low); at < high; at++)
        sum += (Math.min(at + 1, high) - Math.max(at, low)) * (plane[line * stride + at * step] as number);
      into[line * intoStride + k * intoStep] = sum / (high - low);
    }
  return into;
}

/** The same picture with about `most` pixels in all, by area averages; itself where it has no more. */
export function shrinkPicture(picture: LabPicture, most: number): LabPicture {
  const { width, height } = picture;
  const scale = Math.sqrt(most / (width * height));
  if (scale >= 1) return picture;
  return resizePicture(
    picture,
    Math.max(2, Math.round(width * scale)),
    Math.max(2, Math.round(height * scale)),
  );
}

/** The same picture in another number of pixels each way, by area averages. */
export function resizePicture(picture: LabPicture, across: number, down: number): LabPicture {
  const { width, height } = picture;
  const planes = picture.planes.map((plane) => {
    const narrow = shrinkLines(plane, height, width, across, 1, width, 1, across);
    return shrinkLines(narrow, across, height, down, across, 1, across, 1);
  });
  return {
    width: across,
    height: down,
    planes,
    scaleX: (picture.scaleX * width) / across,
    scaleY: (picture.scaleY * height) / down,
  };
}

/** A window of a picture, in its own pixels. */
export function cutPicture(
  picture: LabPicture,
  window: { readonly x: number; readonly y: number; readonly width: number; readonly height: number },
): LabPicture {
  const planes = picture.planes.map((plane) => {
    const cut = new Float32Array(window.width * window.height);
    for (let y = 0; y < window.height; y++) {
      const from = (window.y + y) * picture.width + window.x;
      cut.set(plane.subarray(from, from + window.width), y * window.width);
    }
    return cut;
  });
  return { ...picture, width: window.width, height: window.height, planes };
}

/** The root of the mean square of the planes about their means, over all of them: how much there is to see. */
export function contrastOf(picture: LabPicture): number {
  let sum = 0;
  for (const plane of picture.planes) {
    let [first, second] = [0, 0];
    for (const value of plane) {
      first += value;
      second += value * value;
    }
    sum += second / plane.length - (first / plane.length) ** 2;
  }
  return Math.sqrt(Math.max(0, sum));
}
