/**
 * A picture in pixels. Rows from the top, pixels from the left, channels interleaved, 8 bits each, sRGB-encoded,
 * alpha never premultiplied: half-transparent red is 255,0,0,128.
 */
export interface PixelImage {
  readonly width: number;
  readonly height: number;
  /** 1 is grey, 3 is RGB, 4 is RGBA. */
  readonly channels: 1 | 3 | 4;
  /** `stride * height` bytes or more; of a canvas, `new Uint8Array(imageData.data.buffer)`. */
  readonly data: Uint8Array;
  /** Bytes from one row to the next: at least `width * channels`. */
  readonly stride: number;
  /** Dots per inch along each axis, where the file said so. */
  readonly dpi?: { readonly x: number; readonly y: number };
}
