/** Packs bits to bytes, low bit first, as a deflate stream holds them (RFC 1951, section 3.1.1). */
export class BitWriter {
  #bytes: Uint8Array = new Uint8Array(1 << 16);
  #length = 0;
  #held = 0;
  #count = 0;

  /** Makes room for so many more bits, so that {@link put} need not look. */
  reserve(bits: number): void {
    const wanted = this.#length + Math.ceil(bits / 8) + 8;
    if (wanted <= this.#bytes.length) return;
    const larger = new Uint8Array(Math.max(wanted, 2 * this.#bytes.length));
    larger.set(this.#bytes.subarray(0, this.#length));
    this.#bytes = larger;
  }

  /** Appends the low `count` bits of a value, 0 to 16; the bits above them are 0. */
  put(value: number, count: number): void {
    this.#held |= value << this.#count;
    this.#count += count;
    if (this.#count >= 16) {
      this.#bytes[this.#length++] = this.#held;
      this.#bytes[this.#length++] = this.#held >>> 8;
      this.#held >>>= 16;
      this.#count -= 16;
    }
  }

  /** Fills the last byte with 0. */
  align(): void {
    while (this.#count > 0) {
      this.#bytes[this.#length++] = this.#held;
      this.#held >>>= 8;
      this.#count = Math.max(0, this.#count - 8);
    }
    this.#held = 0;
  }

  /** Everything up to here; the last bits must have been filled up. */
  take(): Uint8Array {
    return this.#bytes.slice(0, this.#length);
  }
}
