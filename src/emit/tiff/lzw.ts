/**
 * The LZW of TIFF (TIFF 6.0, Adobe 1992, section 13): codes of 9 to 12 bits, the high bits first, and each width left
 * one code early.
 */

const CLEAR = 256;
const END = 257;
const FIRST_FREE = 258;

/**
 * The table counts as full here. Section 13 lets entry 4094 come to use; the common library clears one entry earlier,
 * and there are readers whose tables are only as long as that needs.
 */
const FULL = 4094;

/**
 * Slots of the table of strings, a power of two: four times the entries, so that chains stay short, and 64 kB, so that
 * it stays in the nearest memory.
 */
const SLOT_BITS = 14;

/** No slot looks like this: prefixes stay below {@link FULL}. */
const EMPTY = -1;

/** Knuth, The Art of Computer Programming, vol. 3, section 6.4: 2^32 over the golden ratio, as 32 signed bits. */
const SPREAD = 0x9e3779b1 | 0;

/** At most 12 bits a byte, a clear code for every 3836 of them and a few at the ends. */
const boundOf = (length: number): number => Math.ceil(length * 1.5005) + 16;

/** The LZW stream of some bytes; that of no bytes too holds a clear code and an end. */
export function encodeLzw(bytes: Uint8Array): Uint8Array {
  const out = new Uint8Array(boundOf(bytes.length));
  // A slot holds a string and its code: 12 bits for the code of all but the last byte, 8 for that byte, 12 for its code.
  const slots = new Int32Array(2 ** SLOT_BITS).fill(EMPTY);
  let at = 0;
  let held = 0; // bits that do not fill a byte yet, in the low places
  let heldBits = 0;
  let width = 9;
  let free = FIRST_FREE;

  const put = (code: number): void => {
    held = (held << width) | code;
    heldBits += width;
    while (heldBits >= 8) {
      heldBits -= 8;
      out[at++] = held >>> heldBits;
    }
    held &= 255;
  };
  /** After each code a reader has one more entry; true when the table starts anew. */
  const advance = (): boolean => {
    free++;
    if (free === FULL) {
      put(CLEAR);
      free = FIRST_FREE;
      width = 9;
      return true;
    }
    if (free === 1 << width) width++;
    return false;
  };

  put(CLEAR);
  if (bytes.length > 0) {
    let prefix = bytes[0] ?? 0;
    for (let i = 1; i < bytes.length; i++) {
      const byte = bytes[i] ?? 0;
      const key = (prefix << 8) | byte;
      let slot = Math.imul(key, SPREAD) >>> (32 - SLOT_BITS);
      let entry = slots[slot] ?? EMPTY;
      while (entry !== EMPTY && entry >>> 12 !== key) {
        slot = (slot + 1) & (2 ** SLOT_BITS - 1);
        entry = slots[slot] ?? EMPTY;
      }
      if (entry !== EMPTY) {
        prefix = entry & 0xfff;
        continue;
      }
      put(prefix);
      slots[slot] = (key << 12) | free;
      if (advance()) slots.fill(EMPTY);
      prefix = byte;
    }
    put(prefix);
    advance();
  }
  put(END);
  if (heldBits > 0) out[at++] = held << (8 - heldBits);
  return out.slice(0, at);
}
