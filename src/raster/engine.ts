import { RepetendError } from "../errors.js";
import type { PixelImage, RasteriseSize } from "../image/index.js";
import { unpremultiply } from "./unpremultiply.js";

/** What is rendered, in whole pixels, and how much of it is cut off again. */
export interface RenderSize extends RasteriseSize {
  /** On all four sides; less than half of either. Default 0. */
  readonly overscan?: number;
}

/**
 * Renders SVG text that this package wrote itself, with a root whose width and height are the size in pixels, and hands
 * back what lies inside the overscan. Text of any other origin must go through `rasterise`, which reads it strictly first.
 */
export type Engine = (svg: string, size: RenderSize) => Promise<PixelImage>;

/** Beyond this the renderer's 32-bit floats place an edge less exactly than to 1/128 of a pixel. */
const SIDE_LIMIT = 2 ** 16;

/** 1 GiB of RGBA; larger pictures are rendered in bands. */
export const PIXEL_LIMIT: number = 2 ** 28;

/** Pixels from the upper left corner. */
interface Crop {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** What both engines are told: no fonts of the machine, no scaling, and to cut the overscan off themselves. */
export function engineOptions({ width, height, overscan = 0 }: RenderSize): {
  readonly font: { readonly loadSystemFonts: false };
  readonly fitTo: { readonly mode: "original" };
  readonly crop?: Crop;
} {
  const options = { font: { loadSystemFonts: false }, fitTo: { mode: "original" } } as const;
  if (overscan === 0) return options;
  const crop = { left: overscan, top: overscan, right: width - overscan, bottom: height - overscan };
  return { ...options, crop };
}

/**
 * Refuses sizes that are no whole pixels, or too many for one render.
 *
 * @throws `RepetendError` E_SIZE, E_TOO_LARGE.
 */
export function checkRenderSize({ width, height }: RasteriseSize): void {
  const value = `${width} x ${height} px`;
  if (!Number.isInteger(width) || !Number.isInteger(height) || width < 1 || height < 1) {
    throw new RepetendError("E_SIZE", "a drawing is rendered at whole pixels", {
      value,
      accepted: "1 px or more each way",
    });
  }
  if (width > SIDE_LIMIT || height > SIDE_LIMIT || width * height > PIXEL_LIMIT) {
    throw new RepetendError("E_TOO_LARGE", "too many pixels for one render", {
      value,
      accepted: `at most ${SIDE_LIMIT} px a side and ${PIXEL_LIMIT} px in all`,
    });
  }
}

/** What an engine gives back, without the overscan, before it is checked. */
export interface EngineOutput {
  readonly width: number;
  readonly height: number;
  /** RGBA, premultiplied; taken over and changed in place. */
  readonly pixels: Uint8Array;
}

/**
 * The picture of an engine's output, un-premultiplied.
 *
 * @throws `RepetendError` E_RENDER when the size is not the one that was asked for.
 */
export function takeOutput(output: EngineOutput, size: RenderSize): PixelImage {
  const { overscan = 0 } = size;
  const [width, height] = [size.width - 2 * overscan, size.height - 2 * overscan];
  const { pixels: data } = output;
  if (width !== output.width || height !== output.height || data.length !== width * height * 4) {
    throw new RepetendError("E_RENDER", "the renderer gave back another size", {
      value: `${output.width} x ${output.height} px`,
      accepted: `${width} x ${height} px`,
    });
  }
  unpremultiply(data);
  return { width, height, channels: 4, data, stride: width * 4 };
}

/** The refusal for whatever an engine throws. */
export function renderError(error: unknown): unknown {
  if (error instanceof RepetendError) return error;
  const reason = error instanceof Error ? error.message : String(error);
  return new RepetendError("E_RENDER", `the renderer failed: ${reason}`, { cause: error });
}
