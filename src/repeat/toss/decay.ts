/** Terms of the series: below 1e-17 up to a half. */
const TERMS = 14;

/**
 * The exponential of -`by`, `by` at least 0, from plain arithmetic alone, so that it is the same in every machine: the
 * last digit of `Math.exp` is not.
 */
export function decay(by: number): number {
  let [small, halvings] = [by, 0];
  while (small > 0.5) {
    small /= 2;
    halvings += 1;
  }
  let [sum, term] = [1, 1];
  for (let k = 1; k <= TERMS; k += 1) {
    term *= -small / k;
    sum += term;
  }
  for (let k = 0; k < halvings; k += 1) sum *= sum;
  return sum;
}
