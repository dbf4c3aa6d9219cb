import FastFourier from "fft.js";

/** The part of the transform that is used here; the package's own types say nothing. */
interface Transform {
  transform(into: Float64Array, from: Float64Array): void;
  inverseTransform(into: Float64Array, from: Float64Array): void;
}

const makeTransform = (size: number): Transform => new FastFourier(size) as Transform;

/** The smallest power of two that is not below `least`, and at least 2. */
export function powerOfTwo(least: number): number {
  return 2 ** Math.max(1, Math.ceil(Math.log2(least)));
}

/** A plane of complex numbers, rows from the top, real and imaginary parts in turn; sides are powers of two. */
export interface ComplexPlane {
  readonly width: number;
  readonly height: number;
  readonly data: Float64Array;
}

/** The transform of a plane in place: rows, then columns. The inverse divides by the number of pixels. */
export function transformPlane({ width, height, data }: ComplexPlane, inverse: boolean): void {
  const along = (size: number, count: number, step: number, stride: number): void => {
    const plan = makeTransform(size);
    const [from, into] = [new Float64Array(2 * size), new Float64Array(2 * size)];
    for (let line = 0; line < count; line++) {
      for (let k = 0, at = 2 * line * stride; k < size; k++, at += 2 * step) {
        from[2 * k] = data[at] as number;
        from[2 * k + 1] = data[at + 1] as number;
      }
      if (inverse) plan.inverseTransform(into, from);
      else plan.transform(into, from);
      for (let k = 0, at = 2 * line * stride; k < size; k++, at += 2 * step) {
        data[at] = into[2 * k] as number;
        data[at + 1] = into[2 * k + 1] as number;
      }
    }
  };
  along(width, height, 1, width);
  along(height, width, width, 1);
}

/**
 * Replaces a plane z by its circular autocorrelation, the sum of conj(z(x)) z(x + d) at each shift d (Wiener-Khinchin
 * theorem: the inverse transform of the squared spectrum). With z = f + ig the real part is that of f plus that of g.
 */
export function autocorrelate(plane: ComplexPlane): void {
  transformPlane(plane, false);
  const { data } = plane;
  for (let at = 0; at < data.length; at += 2) {
    data[at] = (data[at] as number) ** 2 + (data[at + 1] as number) ** 2;
    data[at + 1] = 0;
  }
  transformPlane(plane, true);
}
