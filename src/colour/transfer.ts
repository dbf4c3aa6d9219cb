/** Applies a curve for light from 0 up to negative components too, mirrored, as CSS Color 4 extends every one of them. */
const mirrored =
  (curve: (light: number) => number) =>
  (value: number): number =>
    value < 0 ? -curve(-value) : curve(value);

/** The curve of sRGB and Display P3 (IEC 61966-2-1:1999): from linear light to an encoded component. */
export const encodeSrgb: (value: number) => number = mirrored((light) =>
  light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055,
);

/**
 * From a `rec2020` component to the one that the colour library means by the same light.
 *
 * CSS Color 4 defines `rec2020` by the display's curve, a power of 2.4 (Rec. ITU-R BT.1886, annex 1, without black lift;
 * resolved by the CSS working group in 2025); the library still decodes by the camera's (Rec. ITU-R BT.2020-2, table 4).
 */
export const recodeRec2020: (value: number) => number = mirrored((value) => {
  const light = value ** 2.4;
  return light < 0.018053968510807 ? 4.5 * light : 1.09929682680944 * light ** 0.45 - 0.09929682680944;
});
