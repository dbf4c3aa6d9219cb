/** Memory for packed rows, taken over from band to band: to take it afresh each time takes longer than to fill it. */
export class RowBuffers {
  readonly #free: ArrayBuffer[] = [];

  /** Memory of at least so many bytes, which may hold anything. */
  take(bytes: number): ArrayBuffer {
    const at = this.#free.findIndex((one) => one.byteLength >= bytes);
    const [known] = at < 0 ? [] : this.#free.splice(at, 1);
    return known ?? Buffer.allocUnsafeSlow(bytes).buffer;
  }

  /** Takes back what nobody reads any more. */
  give(memory: ArrayBuffer): void {
    this.#free.push(memory);
  }
}
