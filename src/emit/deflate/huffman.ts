/** Code lengths of a Huffman code whose longest one is limited, in bits; 0 for symbols that do not occur. */
export function codeLengths(counts: ArrayLike<number>, limit: number): Uint8Array {
  const lengths = new Uint8Array(counts.length);
  const used = Array.from({ length: counts.length }, (_, symbol) => symbol)
    .filter((symbol) => (counts[symbol] ?? 0) > 0)
    .sort((one, other) => (counts[one] ?? 0) - (counts[other] ?? 0) || one - other);
  if (used.length <= 1) {
    for (const symbol of used) lengths[symbol] = 1;
    return lengths;
  }
  // The plain code first: leaves and joined nodes wait in two queues, both in rising order (J. van Leeuwen, "On the
  // construction of Huffman trees", ICALP 1976).
  const weights = used.map((symbol) => counts[symbol] ?? 0);
  const parents: number[] = [];
  let [leaf, node] = [0, used.length];
  const take = (): number => {
    const isLeaf =
      leaf < used.length && (node >= weights.length || (weights[leaf] ?? 0) <= (weights[node] ?? 0));
    return isLeaf ? leaf++ : node++;
  };
  while (weights.length < 2 * used.length - 1) {
    const [one, other] = [take(), take()];
    parents[one] = weights.length;
    parents[other] = weights.length;
    weights.push((weights[one] ?? 0) + (weights[other] ?? 0));
  }
  const depths = new Array<number>(weights.length).fill(0);
  const held = new Array<number>(limit + 1).fill(0);
  for (let at = weights.length - 2; at >= 0; at--) {
    depths[at] = (depths[parents[at] ?? 0] ?? 0) + 1;
    if (at < used.length) {
      const depth = Math.min(limit, depths[at] ?? 0);
      held[depth] = (held[depth] ?? 0) + 1;
    }
  }
  shorten(held, limit);
  let at = 0;
  for (let length = limit; length > 0; length--) {
    for (let count = held[length] ?? 0; count > 0; count--) lengths[used[at++] ?? 0] = length;
  }
  return lengths;
}

/**
 * Makes room for codes that were cut to the limit, until the lengths fill the code space exactly (L. G. Kraft, "A device
 * for quantizing, grouping, and coding amplitude-modulated pulses", 1949): each step gives up one code of the limit and
 * splits the longest code above it.
 */
function shorten(held: number[], limit: number): void {
  let total = held.reduce(
    (sum, count, length) => sum + (length === 0 ? 0 : count * 2 ** (limit - length)),
    0,
  );
  while (total > 2 ** limit) {
    held[limit] = (held[limit] ?? 0) - 1;
    for (let length = limit - 1; length > 0; length--) {
      if ((held[length] ?? 0) === 0) continue;
      held[length] = (held[length] ?? 0) - 1;
      held[length + 1] = (held[length + 1] ?? 0) + 2;
      break;
    }
    total--;
  }
}

/** The codes of these lengths, low bit first as a deflate stream holds them (RFC 1951, section 3.2.2). */
export function canonicalCodes(lengths: Uint8Array): Uint16Array {
  const codes = new Uint16Array(lengths.length);
  let code = 0;
  for (let length = 1; length <= 15; length++) {
    for (let symbol = 0; symbol < lengths.length; symbol++) {
      if (lengths[symbol] === length) codes[symbol] = reverseBits(code++, length);
    }
    code <<= 1;
  }
  return codes;
}

function reverseBits(code: number, length: number): number {
  let reversed = 0;
  for (let bit = 0; bit < length; bit++) reversed |= ((code >> bit) & 1) << (length - 1 - bit);
  return reversed;
}
