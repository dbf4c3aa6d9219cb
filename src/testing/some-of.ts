import fc from "fast-check";

/**
 * A list of up to `max` values. Any one of them can be dropped in shrinking, wherever it stands; fast-check's own arrays
 * only drop from the front.
 */
export function someOf<T>(
  values: fc.Arbitrary<T>,
  { min, max }: { readonly min: 0 | 1; readonly max: number },
): fc.Arbitrary<readonly T[]> {
  const kept = fc.integer({ min: 0, max: 3 });
  return fc
    .array(fc.record({ value: values, kept }), { minLength: min, maxLength: max, size: "max" })
    .map((all) => {
      const left = all.filter((one) => one.kept > 0);
      return (left.length < min ? all.slice(-1) : left).map((one) => one.value);
    });
}
