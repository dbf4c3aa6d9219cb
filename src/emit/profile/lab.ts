import { anImage } from "../../image/checks.js";
import type { PixelImage } from "../../image/index.js";
import { plainRgb } from "./cmyk.js";

/** Linear light of an 8-bit sRGB level (IEC 61966-2-1:1999). */
const LIGHT: Float64Array = Float64Array.from({ length: 256 }, (_, level) => {
  const value = level / 255;
  return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
});

/** XYZ of D50 from its chromaticity 0.3457, 0.3585 (CSS Color 4, "CIE XYZ color spaces"). */
const WHITE = [0.3457 / 0.3585, 1, (1 - 0.3457 - 0.3585) / 0.3585] as const;

type Row = readonly [r: number, g: number, b: number];
const over = ([r, g, b]: Row, white: number): Row => [r / white, g / white, b / white];

/**
 * From linear sRGB to XYZ of D50, adapted by Bradford (CSS Color 4, "Sample code for color conversions"), as shares of the
 * white.
 */
const TO_X = over([0.436065742824811, 0.3851514688337912, 0.14307845442264197], WHITE[0]);
const TO_Y = over([0.22249319175623702, 0.7168870538238823, 0.06061979053616537], WHITE[1]);
const TO_Z = over([0.013923904500943465, 0.09708128566574634, 0.7140993584005155], WHITE[2]);

const mix = (row: Row, r: number, g: number, b: number): number => row[0] * r + row[1] * g + row[2] * b;

/** CIE 15:2018, section 8.2.1: 216/24389 and 24389/27. */
const bend = (share: number): number =>
  share > 216 / 24389 ? Math.cbrt(share) : ((24389 / 27) * share + 16) / 116;

/**
 * sRGB pixels as CIE L*a*b* of D50, the white that ICC profiles and spectrophotometers measure by, in the 8 bits of TIFF
 * 6.0, section 23: L* 0 to 100 as 0 to 255; a*, b* as two's complement. All of sRGB fits; the colours are rounded to half a
 * step, which is 0.2 of L* and 0.5 of a*, b*.
 *
 * @param image without alpha.
 * @returns three channels: L*, a*, b*.
 * @throws `RepetendError` E_FORMAT for pixels with alpha, or grey; E_IMAGE for bytes that do not fit the size.
 *
 * @example
 * ```ts
 * import { toLabPixels } from "repetend/emit";
 * const green = { width: 1, height: 1, channels: 3, data: Uint8Array.of(0, 128, 0), stride: 3 } as const;
 * toLabPixels(green).data.join(); // "118,208,50": L* 46.3, a* -48, b* 50
 * ```
 */
export function toLabPixels(image: PixelImage): PixelImage {
  anImage(image, "image");
  const { width, height, dpi } = image;
  const rgb = plainRgb(image, "Lab");
  const data = new Uint8Array(rgb.length);
  let last = -1;
  let [l, a, b] = [0, 0, 0];
  for (let at = 0; at < rgb.length; at += 3) {
    const red = rgb[at] ?? 0;
    const green = rgb[at + 1] ?? 0;
    const blue = rgb[at + 2] ?? 0;
    const colour = (red << 16) | (green << 8) | blue;
    if (colour !== last) {
      const [lr, lg, lb] = [LIGHT[red] ?? 0, LIGHT[green] ?? 0, LIGHT[blue] ?? 0];
      const x = bend(mix(TO_X, lr, lg, lb));
      const y = bend(mix(TO_Y, lr, lg, lb));
      const z = bend(mix(TO_Z, lr, lg, lb));
      l = Math.round(((116 * y - 16) * 255) / 100);
      a = Math.round(500 * (x - y));
      b = Math.round(200 * (y - z));
      last = colour;
    }
    data[at] = l;
    data[at + 1] = a;
    data[at + 2] = b;
  }
  return { width, height, channels: 3, data, stride: width * 3, ...(dpi === undefined ? {} : { dpi }) };
}
