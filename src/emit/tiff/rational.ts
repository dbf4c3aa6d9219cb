/** The largest number of 32 bits, as TIFF's rationals have two of. */
const LARGEST: bigint = 2n ** 32n - 1n;

/** The exact fraction of a positive double. */
function fractionOf(value: number): readonly [bigint, bigint] {
  let scaled = value;
  let below = 1n;
  while (!Number.isInteger(scaled)) {
    scaled *= 2;
    below *= 2n;
  }
  return [BigInt(scaled), below];
}

/**
 * A positive number as a fraction of two 32-bit numbers: the simplest that gives this very double when it is divided
 * out, for example 1499997/5000 for 299.9994; where none does, the closest that 32 bits hold.
 *
 * By continued fractions: G. H. Hardy and E. M. Wright, "An Introduction to the Theory of Numbers", chapter 10:
 * convergents (10.2), and that they are best approximations (10.15).
 *
 * @returns `undefined` for what 32 bits cannot hold: not between 1/(2^32 - 1) and 2^32 - 1.
 */
export function toRational(value: number): readonly [number, number] | undefined {
  if (!(value >= 1 / Number(LARGEST) && value <= Number(LARGEST))) return undefined;
  const [exactTop, exactBelow] = fractionOf(value);
  let [rest, divisor] = [exactTop, exactBelow];
  let [top, below, lastTop, lastBelow] = [1n, 0n, 0n, 1n];
  while (divisor !== 0n) {
    const whole = rest / divisor;
    const take = (times: bigint) => [times * top + lastTop, times * below + lastBelow] as const;
    const fits = (times: bigint): boolean => take(times).every((number) => number <= LARGEST);
    if (!fits(whole)) {
      // The last one that fits lies between two convergents; either it or the one before is the closest.
      const off = (a: bigint, b: bigint): bigint => {
        const difference = a * exactBelow - exactTop * b;
        return difference < 0n ? -difference : difference;
      };
      const rooms = [top === 0n ? whole : (LARGEST - lastTop) / top, (LARGEST - lastBelow) / below];
      const between = take(rooms.find(fits) ?? 0n);
      if (off(...between) * below < off(top, below) * between[1]) [top, below] = between;
      break;
    }
    [lastTop, lastBelow, top, below] = [top, below, ...take(whole)];
    if (Number(top) / Number(below) === value) break;
    [rest, divisor] = [divisor, rest % divisor];
  }
  return [Number(top), Number(below)];
}
