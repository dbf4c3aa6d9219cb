/** A generator of numbers from 0 to below 1, the same for the same seed on every machine. */
export type Random = () => number;

/** Starts a generator: a 32-bit counter put through a mixing function (the finaliser of MurmurHash3, A. Appleby 2011, from memory). */
export function startRandom(seed: number): Random {
  let state = (seed ^ 0x9e3779b9) >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = state;
    mixed = Math.imul(mixed ^ (mixed >>> 16), 0x85ebca6b);
    mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
    return ((mixed ^ (mixed >>> 16)) >>> 0) / 2 ** 32;
  };
}
